/* The plan's own parts: checks in tpt-visit-check.c, the shelf in
 * tpt-visit-stock.c, the words in tpt-visit-words.c. */
#pragma once

#include "tpt-visit-plan.h"

G_BEGIN_DECLS

struct _TptVisitPlan {
  const TptVisitFacts *facts; /* (unowned): only while the plan is made */
  TptRecord *visit;           /* (owned): a copy */
  GPtrArray *lines;           /* (unowned): only while the plan is made */
  gboolean bring_in;

  GPtrArray *faults;   /* (element-type TptVisitFault) */
  GPtrArray *warnings; /* (element-type utf8) */
  GPtrArray *records;  /* (element-type TptRecord) */
  GPtrArray *stock;    /* (element-type TptRecord): copies of the counts that change */
  GPtrArray *moves;    /* (element-type utf8): phrases for people */
  guint n_readings;
};

void tpt_visit_plan_blame (TptVisitPlan *self, int line, const char *column, const char *format, ...) G_GNUC_PRINTF (4, 5);
void tpt_visit_plan_warn (TptVisitPlan *self, const char *format, ...) G_GNUC_PRINTF (2, 3);
void tpt_visit_plan_note (TptVisitPlan *self, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* What a line says, in short. */
const char *tpt_visit_line_get_unit (const TptVisitLine *line);
gboolean tpt_visit_line_did (const TptVisitLine *line, const char *action);
/* (nullable): another unit that came in its place. */
const char *tpt_visit_line_get_successor (const TptVisitLine *line);
/* Swapped, and neither by another unit of its own nor put back as it was. */
gboolean tpt_visit_line_is_renewed (const TptVisitLine *line);

/* Faults of the visit and of each line. */
void tpt_visit_plan_check (TptVisitPlan *self);
/* Takes what a renewed unit took off the shelf. */
void tpt_visit_plan_take_stock (TptVisitPlan *self, TptRecord *unit);

G_END_DECLS
