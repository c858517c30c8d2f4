/* The parts of a clock plan, shared within intake/ only. */
#pragma once

#include "tpt-clock-plan.h"

G_BEGIN_DECLS

/* More than zones can differ: from -12 to +14 hours. */
#define TPT_CLOCK_FAR (26 * TPT_HOUR)

/**
 * TptClockStretch: frames between two jumps of the clock.
 * @first: the first frame
 * @n: how many
 * @from: smallest bare instant of a frame with a reading of its own, or %TPT_NO_INSTANT
 * @to: largest
 * @lost: whether most of it lies outside the deployment's time
 * @fell: whether it begins with a step back from frames inside to frames inside
 * @pairs: (owned) (element-type guint): pairs that belong to it and bear on its frames, by bare instant
 */
typedef struct {
  guint first;
  guint n;
  TptInstant from;
  TptInstant to;
  gboolean lost;
  gboolean fell;
  GArray *pairs;
} TptClockStretch;

/**
 * TptClockPart: what one step adds to some frames.
 * @step: index among the steps
 * @first: first frame
 * @n: how many, of which only those with a bare instant within @from..@to
 * @from: or %TPT_NO_INSTANT for no bound
 * @to: likewise, not included
 * @anchor: bare instant at which @shift_ms holds
 * @shift_ms: what is added
 * @rate: and more, a unit for a unit after @anchor
 */
typedef struct {
  guint step;
  guint first;
  guint n;
  TptInstant from;
  TptInstant to;
  TptInstant anchor;
  double shift_ms;
  double rate;
} TptClockPart;

struct _TptClockPlan {
  const TptClockKnown *known; /* (unowned): only while it is made */
  const TptClockSight *sights; /* (unowned): likewise */
  TptInstant *bare;            /* (owned) (array length=n) */
  guint n;
  TptInstant *pair_bare;       /* (owned): of each pair */
  GArray *stretches;           /* (owned) (element-type TptClockStretch) */
  GPtrArray *steps;            /* (owned) (element-type TptClockMend) */
  GArray *parts;               /* (owned) (element-type TptClockPart) */
  GPtrArray *doubts;           /* (owned) */
  gint last_pair;              /* the last pair that bears on a frame, or -1 */
  gint changed_at;             /* frame before which the camera stepped back by the zone's change, or -1 */
};

/* stretches */
void tpt_clock_find_stretches (TptClockPlan *self);
gboolean tpt_clock_has_reading (const TptClockSight *sight);
/* The next change of @zone after @from and up to @to: its instant and by how
 * many seconds its offset grows. */
gboolean tpt_clock_find_change (TptZone *zone, TptInstant from, TptInstant to, TptInstant *when, int *by_s);

/* parts and steps */
void tpt_clock_mend_stretch (TptClockPlan *self, guint index);
TptClockMend *tpt_clock_want_step (TptClockPlan *self, const char *id, guint *index);
/* Adds to the step's words. (transfer full) */
void tpt_clock_say (TptClockMend *step, char *says);
void tpt_clock_add_part (TptClockPlan *self, guint step, const TptClockStretch *stretch, TptInstant from, TptInstant to,
                         TptInstant anchor, double shift_ms, double rate);
double tpt_clock_part_at (const TptClockPart *part, guint frame, TptInstant bare);
gboolean tpt_clock_part_covers (const TptClockPart *part, guint frame, TptInstant bare);

/* zones */
/* What to add so that a clock @error_ms behind with an offset of @base_s shows the time of
 * its zone, when it showed that of another that exists; else 0. */
gint64 tpt_clock_find_zone_shift (gint64 error_ms, int base_s);
/* Takes the camera's own changes out of @errors (of the stretch's pairs). */
void tpt_clock_add_own_change (TptClockPlan *self, const TptClockStretch *stretch, gint64 *errors);
void tpt_clock_add_hours_without_pair (TptClockPlan *self);

/* light */
typedef struct {
  guint seen;    /* bright or dark */
  guint bright;  /* with the sun down */
  guint dark;    /* with the sun up */
} TptClockLight;

/* Of frames of stretches without a pair (@free_only) or of all, @add_ms added to @at. */
TptClockLight tpt_clock_count_light (TptClockPlan *self, const TptInstant *at, gboolean free_only, gint64 add_ms);
/* The whole hours that agree best with the light; 0 when nothing is clear. */
int tpt_clock_find_hours_by_light (TptClockPlan *self, const TptInstant *at);
void tpt_clock_doubt_light (TptClockPlan *self, const TptInstant *at);

/* words; all (transfer full) */
char *tpt_clock_say_span (gint64 ms);
char *tpt_clock_say_offset (TptClockPlan *self, guint pair, gint64 error_ms);
char *tpt_clock_say_record (gint64 error_ms);
char *tpt_clock_say_drift (TptClockPlan *self, guint from, guint to, double s_per_day);
char *tpt_clock_say_set (TptClockPlan *self, guint from, guint to);
char *tpt_clock_say_reset (TptClockPlan *self, const TptClockStretch *stretch, int pair);
char *tpt_clock_say_stray (TptClockPlan *self, guint pair);
char *tpt_clock_say_lost (TptClockPlan *self, const TptClockStretch *stretch);
char *tpt_clock_say_hour (TptClockPlan *self, guint pair, gint64 shift_ms);
char *tpt_clock_say_own_change (TptClockPlan *self, TptInstant change);
char *tpt_clock_say_bound (gint64 shift_ms, gboolean at_start, gboolean sun_agrees);
char *tpt_clock_say_sun (int hours);

G_END_DECLS
