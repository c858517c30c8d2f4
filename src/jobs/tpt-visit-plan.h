/* What a visit changes, decided in one place for the form and for filled-in
 * field sheets: the records to save, what stands against it, what to mind. */
#pragma once

#include "tpt-visit-facts.h"

G_BEGIN_DECLS

/**
 * TptVisitLine: what was said about one unit.
 * @reading: (owned): without its visit. Its replacement is the unit that came
 *   in its place; the unit's own code says that the same one went back in, a
 *   card emptied or a pack with the cells it had. Without one a swap took
 *   fresh cells, or a card without a name, from the shelf
 * @cause: (owned) (nullable): of the harm that was found
 */
typedef struct {
  TptRecord *reading;
  char *cause;
} TptVisitLine;

/* (transfer full): takes a reference to @reading. */
TptVisitLine *tpt_visit_line_new (TptRecord *reading, const char *cause);
void tpt_visit_line_free (TptVisitLine *self);

/**
 * TptVisitFault: why the visit cannot be saved.
 * @line: index of the line at fault, -1 for the visit itself
 * @column: of the visit, of the reading, or "cause"
 */
typedef struct {
  int line;
  const char *column;
  char *reason;
} TptVisitFault;

typedef struct _TptVisitPlan TptVisitPlan;

/**
 * tpt_visit_plan_new:
 * @facts: of the visit's station and moment, with every unit the lines name
 * @visit: (transfer none): what was said about the rig as a whole
 * @lines: (element-type TptVisitLine)
 * @bring_in: the visit also ends the deployment and everything fitted in it
 *
 * A swap with a replacement ends the old unit's fitting at the visit and begins
 * the new one's; a removal ends it. Fresh cells lower the count on the shelf by
 * cells in series times strings in parallel (a block, which is not taken apart, is
 * one piece whatever is in it), a card by one, never below nought.
 * A cause makes an entry in the unit's log: failure when it is dead, loss when
 * the rig was found gone and nothing is known of the unit's state, else damage.
 * What is lost and removed is retired, so that it does not lie on the shelf.
 *
 * Copies what it changes: @facts, @visit and @lines stay as they are.
 */
TptVisitPlan *tpt_visit_plan_new (const TptVisitFacts *facts, TptRecord *visit, GPtrArray *lines, gboolean bring_in);
void tpt_visit_plan_free (TptVisitPlan *self);

/* (transfer none) (element-type TptVisitFault): empty when it can be saved. */
GPtrArray *tpt_visit_plan_get_faults (TptVisitPlan *self);
/* (transfer none) (element-type utf8): sentences; none of them forbids anything. */
GPtrArray *tpt_visit_plan_get_warnings (TptVisitPlan *self);
/* (transfer none) (element-type TptRecord): in the order in which to save them;
 * the visit first, without a code when it had none; readings and fittings
 * belong to what was saved before them as for tpt_job_edit_save(). Empty while
 * there are faults. */
GPtrArray *tpt_visit_plan_get_records (TptVisitPlan *self);

/* (transfer full): one line for people: "C12 out and C07 in; 8 AA alkaline from
 * the shelf (40 left)". */
char *tpt_visit_plan_describe (TptVisitPlan *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptVisitPlan, tpt_visit_plan_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptVisitLine, tpt_visit_line_free)

G_END_DECLS
