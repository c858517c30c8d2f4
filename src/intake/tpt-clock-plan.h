/* What can be done about a camera's clock, from everything that is known of
 * it: the readings of one card in the card's order, and what visits noted.
 *
 * Readings are first taken as they stand (tpt_clock_read_bare()). Each step
 * then adds to the frames it concerns; steps are independent, so that any of
 * them can be left out, and nothing of the readings is lost.
 *
 * Stretches. The card's order is cut where readings leap by a week or more into
 * or out of the deployment's time (36 hours either way are let pass), where
 * they leap forward by more than the deployment is long, and where they go back by
 * more than a minute. Within the deployment's time the latter counts only when
 * running numbers say that the order goes on: known, and up by 1000 at most or
 * begun anew. A counter that wrapped within a folder, or names without numbers,
 * say nothing. Not cut either: a step back by the zone's own change at that
 * change, which is a camera that changes its clock by itself.
 *
 * Pairs. A pair belongs to the stretch whose readings are nearest to its own; a
 * pair noted after all frames belongs to the last stretch, and one noted
 * before all to the first. One that shows a date of the deployment speaks for no
 * stretch that shows none, and the other way about; one farther from a
 * stretch than the deployment is long does not either. Of the pairs before
 * all frames of a stretch only the last is used, of those after all the first.
 *
 * Steps, each with a stable word:
 *   reset    a stretch that begins with a step back, or whose pair is more than 26
 *            hours off. By the first pair of the stretch; without one, if it is
 *            the last stretch, by the visit that ended it, when the camera was
 *            found at work: its last frame is taken to show that visit (proposed when
 *            nothing before contradicts it and, of a whole card, its readings
 *            begin on a 1 January). Else the stretch is left alone and a
 *            doubt says so. Further ones are reset-2, reset-3
 *   hour     the clock showed the time of another zone that exists (within five
 *            minutes), or changed for daylight saving by itself. By the pair; else
 *            by the deployment's start or end, when a shift to another zone
 *            brings frames inside that lie outside and the first or last of
 *            them within 15 minutes of it; else by the sun, which tells three
 *            hours and more. Without a pair it
 *            is proposed only when two of these agree
 *   offset   what is left of the first pair of a stretch; without any pair
 *            what the deployment's camera_clock_offset_s says
 *   drift    what changes from one pair of a stretch to the next, interpolated.
 *            Before the first and after the last the nearest pair holds: a
 *            rate from two readings a few seconds uncertain each is not
 *            stretched beyond them. More than 30 s a day is no drift: the
 *            clock was set in between, and the later pair speaks for the frames
 *            since the earlier (part of the offset)
 *
 * The light. A frame is bright when its exposure without flash was right for an
 * exposure value of 9 or more, and dark when a flash fired or its exposure
 * value is below 2. Bright with the sun more than 6 degrees down, or dark with the sun
 * more than 20 degrees up, speaks against the clock. A flash counts only on a
 * card on which at least a quarter of the frames did without. Values: common
 * practice, no source.
 */
#pragma once

#include "tpt-clock.h"

G_BEGIN_DECLS

/* What a visit noted: the camera's clock, and the true time at that moment. */
typedef struct {
  TptReading read;
  TptInstant true_at;
} TptClockPair;

/**
 * TptClockKnown:
 * @clock: zone, start, end, now, camera_clock_offset_s; not its pair
 * @pairs: (array length=n_pairs): by @true_at
 * @sure: whether the pairs are of this card whatever their dates
 * @ended_at: the visit at which the card was fetched and the camera found at work, or %TPT_NO_INSTANT
 * @latitude: of the place, degrees; NaN unknown
 * @longitude: likewise
 */
typedef struct {
  TptClock clock;
  const TptClockPair *pairs;
  guint n_pairs;
  gboolean sure;
  TptInstant ended_at;
  double latitude;
  double longitude;
} TptClockKnown;

/**
 * TptClockSight: a frame.
 * @reading: what the clock showed
 * @source: where that comes from
 * @number: the camera's running number, or that of the name; -1 unknown
 * @exposure_value: see #TptExif; NaN unknown
 * @flash: 1, 0, -1 unknown
 */
typedef struct {
  TptReading reading;
  TptTimeSource source;
  gint64 number;
  double exposure_value;
  int flash;
} TptClockSight;

/**
 * TptClockMend: a step.
 * @id: (owned): reset, hour, offset, drift; reset-2...
 * @says: (owned): in words
 * @frames: how many it changes
 * @first: the first of them
 * @before: its instant with nothing added
 * @after: with this step alone
 * @proposed: whether the evidence is good enough
 * @as_rule: whether it is done unless somebody says otherwise: offset and drift
 */
typedef struct {
  char *id;
  char *says;
  guint frames;
  guint first;
  TptInstant before;
  TptInstant after;
  gboolean proposed;
  gboolean as_rule;
} TptClockMend;

/**
 * TptClockShift: what chosen steps come to for frames that follow one another.
 * @first: the first frame
 * @n: how many
 * @why: (owned): the steps, with blanks between
 * @shift_s: seconds added to the first frame
 * @drift_s_per_day: and more for each day of the clock's after it
 */
typedef struct {
  guint first;
  guint n;
  char *why;
  double shift_s;
  double drift_s_per_day;
} TptClockShift;

typedef struct _TptClockPlan TptClockPlan;

/* @frames: (array length=n): one card in its order. Nothing of the arguments is kept. */
TptClockPlan *tpt_clock_plan_new (const TptClockKnown *known, const TptClockSight *frames, guint n);
void tpt_clock_plan_free (TptClockPlan *self);

/* (element-type TptClockMend): reset first, then hour, offset, drift; only what would change a frame. */
GPtrArray *tpt_clock_plan_get_steps (TptClockPlan *self);
/* (element-type utf8): what cannot be mended or speaks against the times with the proposed steps. */
GPtrArray *tpt_clock_plan_get_doubts (TptClockPlan *self);

/* (transfer full): identifiers of the steps proposed; of those done as a rule. */
GStrv tpt_clock_plan_list_proposed (TptClockPlan *self);
GStrv tpt_clock_plan_list_rule (TptClockPlan *self);

/* (nullable): the first of @ids that is no step of this plan. */
const char *tpt_clock_plan_find_unknown (TptClockPlan *self, const char *const *ids);

/* Whether a pair of the visits bears on any frame. @index: (out): the last that does. */
gboolean tpt_clock_plan_uses_pair (TptClockPlan *self, guint *index);

/* @ids: what to do; others are passed over. @at: (out) (array): an instant for
 * every frame, or %TPT_NO_INSTANT for one without a time. */
void tpt_clock_plan_apply (TptClockPlan *self, const char *const *ids, TptInstant *at);

/* (transfer full) (element-type TptClockShift): the same as pieces; frames to which nothing is added are in none. */
GPtrArray *tpt_clock_plan_list_shifts (TptClockPlan *self, const char *const *ids);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptClockPlan, tpt_clock_plan_free)

G_END_DECLS
