/* Which steps a stretch of readings needs, by pairs, visits or the record. */
#include "config.h"

#include "tpt-clock-plan-private.h"

#include <math.h>

/* Common practice, no source: the quartz of a camera left in heat or frost gains
 * or loses a few seconds a day at most. */
#define FASTEST_DRIFT_S 30.0
/* Pairs closer together than this say nothing about a rate. */
#define SHORTEST_DRIFT (6 * TPT_HOUR)

static void
add_whole (TptClockPlan *self, const TptClockStretch *stretch, const char *id, gint64 shift_ms, char *says, gboolean proposed)
{
  guint index;
  TptClockMend *step = tpt_clock_want_step (self, id, &index);

  tpt_clock_say (step, says);
  step->proposed = proposed;
  tpt_clock_add_part (self, index, stretch, TPT_NO_INSTANT, TPT_NO_INSTANT, 0, (double) shift_ms, 0);
}

static char *
make_reset_id (TptClockPlan *self)
{
  guint n = 1;

  for (guint i = 0; i < self->steps->len; i++)
    n += g_str_has_prefix (((TptClockMend *) self->steps->pdata[i])->id, "reset");
  return n == 1 ? g_strdup ("reset") : g_strdup_printf ("reset-%u", n);
}

/* The last bare instant before a stretch that belongs to one that was not lost. */
static TptInstant
find_end_before (TptClockPlan *self, guint index)
{
  while (index-- > 0)
    {
      const TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, index);

      if (!stretch->lost && stretch->to != TPT_NO_INSTANT)
        return stretch->to;
    }
  return self->known->clock.start;
}

static gboolean
is_noted_at_end (TptClockPlan *self)
{
  const TptClockKnown *known = self->known;

  return known->n_pairs > 0 && known->pairs[known->n_pairs - 1].true_at >= known->ended_at - TPT_HOUR;
}

static gboolean
begins_with_year (TptClockPlan *self, const TptClockStretch *stretch)
{
  for (guint i = stretch->first; i < stretch->first + stretch->n; i++)
    if (tpt_clock_has_reading (&self->sights[i]) && self->sights[i].reading.clock_ms >= 0)
      {
        int year, month, day;

        tpt_civil_from_days (self->sights[i].reading.clock_ms / TPT_DAY, &year, &month, &day);
        return month == 1 && day == 1;
      }
  return FALSE;
}

/* A stretch that nothing was noted of: its last frame shows the visit. */
static void
repair_by_visit (TptClockPlan *self, guint index)
{
  const TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, index);
  TptInstant visit = self->known->ended_at, before = find_end_before (self, index);
  gint64 shift_ms = visit - stretch->to;

  if (index + 1 == self->stretches->len && visit != TPT_NO_INSTANT && !is_noted_at_end (self))
    {
      g_autofree char *id = make_reset_id (self);
      gboolean fits = before == TPT_NO_INSTANT || stretch->from + shift_ms >= before;

      add_whole (self, stretch, id, shift_ms, tpt_clock_say_reset (self, stretch, -1),
                 fits && (index > 0 || begins_with_year (self, stretch)));
    }
  else
    g_ptr_array_add (self->doubts, tpt_clock_say_lost (self, stretch));
}

static void
repair_by_pair (TptClockPlan *self, const TptClockStretch *stretch, gint64 error_ms)
{
  g_autofree char *id = make_reset_id (self);
  guint pair = g_array_index (stretch->pairs, guint, 0);

  add_whole (self, stretch, id, error_ms, tpt_clock_say_reset (self, stretch, (int) pair), TRUE);
}

static int
get_pair_base (TptClockPlan *self, guint pair)
{
  return (int) ((self->known->pairs[pair].read.clock_ms - self->pair_bare[pair]) / TPT_SECOND);
}

static void
set_by_pair (TptClockPlan *self, const TptClockStretch *stretch, gint64 error_ms)
{
  guint pair = g_array_index (stretch->pairs, guint, 0);
  gint64 hour_ms = tpt_clock_find_zone_shift (error_ms, get_pair_base (self, pair));

  if (hour_ms != 0)
    add_whole (self, stretch, "hour", hour_ms, tpt_clock_say_hour (self, pair, hour_ms), TRUE);
  if (error_ms != hour_ms)
    add_whole (self, stretch, "offset", error_ms - hour_ms, tpt_clock_say_offset (self, pair, error_ms - hour_ms), TRUE);
}

/* What a pair says that differs from the one before it. */
typedef struct {
  guint pair, next;
  TptInstant from, to; /* bare */
  gint64 grown;        /* ms from the one to the other */
  double done;         /* ms of drift up to @from */
} Span;

static void
add_setting (TptClockPlan *self, const TptClockStretch *stretch, const Span *span)
{
  guint index;
  TptClockMend *step = tpt_clock_want_step (self, "offset", &index);

  tpt_clock_say (step, tpt_clock_say_set (self, span->pair, span->next));
  step->proposed = TRUE;
  tpt_clock_add_part (self, index, stretch, span->from, TPT_NO_INSTANT, 0, (double) span->grown, 0);
}

static void
add_drift (TptClockPlan *self, const TptClockStretch *stretch, const Span *span)
{
  double rate = (double) span->grown / (double) (span->to - span->from);
  guint index;
  TptClockMend *step = tpt_clock_want_step (self, "drift", &index);

  tpt_clock_say (step, tpt_clock_say_drift (self, span->pair, span->next, rate * 86400.0));
  step->proposed = TRUE;
  tpt_clock_add_part (self, index, stretch, span->from, span->to, span->from, span->done, rate);
}

/* After the last pair what has been found holds on. */
static void
hold_drift (TptClockPlan *self, const TptClockStretch *stretch, TptInstant from, TptInstant to, double done)
{
  guint index;

  if (done == 0)
    return;
  tpt_clock_want_step (self, "drift", &index);
  tpt_clock_add_part (self, index, stretch, from, to, 0, done, 0);
}

static void
add_changes (TptClockPlan *self, const TptClockStretch *stretch, const gint64 *errors)
{
  double done = 0;
  guint from = 0;

  for (guint k = 1; k < stretch->pairs->len; k++)
    {
      guint pair = g_array_index (stretch->pairs, guint, from), next = g_array_index (stretch->pairs, guint, k);
      Span span = { pair, next, self->pair_bare[pair], self->pair_bare[next], errors[k] - errors[from], done };
      double days = (double) (span.to - span.from) / (double) TPT_DAY;

      if (span.to - span.from < SHORTEST_DRIFT)
        continue;
      if (ABS ((double) span.grown / 1000.0) <= FASTEST_DRIFT_S * days)
        {
          if (span.grown != 0)
            add_drift (self, stretch, &span);
          else
            hold_drift (self, stretch, span.from, span.to, done);
          done += (double) span.grown;
        }
      else
        {
          add_setting (self, stretch, &span);
          hold_drift (self, stretch, span.from, span.to, done);
        }
      from = k;
    }
  hold_drift (self, stretch, self->pair_bare[g_array_index (stretch->pairs, guint, from)], TPT_NO_INSTANT, done);
}

static void
note_pairs (TptClockPlan *self, const TptClockStretch *stretch)
{
  for (guint i = 0; i < stretch->pairs->len; i++)
    self->last_pair = MAX (self->last_pair, (gint) g_array_index (stretch->pairs, guint, i));
}

static void
mend_by_pairs (TptClockPlan *self, const TptClockStretch *stretch)
{
  g_autofree gint64 *errors = g_new0 (gint64, stretch->pairs->len);

  for (guint i = 0; i < stretch->pairs->len; i++)
    {
      guint pair = g_array_index (stretch->pairs, guint, i);

      errors[i] = self->known->pairs[pair].true_at - self->pair_bare[pair];
    }
  note_pairs (self, stretch);
  if (stretch->fell || ABS (errors[0]) > TPT_CLOCK_FAR)
    repair_by_pair (self, stretch, errors[0]);
  else
    {
      tpt_clock_add_own_change (self, stretch, errors);
      set_by_pair (self, stretch, errors[0]);
    }
  add_changes (self, stretch, errors);
}

static void
mend_by_record (TptClockPlan *self, const TptClockStretch *stretch)
{
  double offset_s = self->known->clock.camera_clock_offset_s;
  gint64 offset_ms = (gint64) llround (offset_s * 1000.0);

  if (offset_ms == 0)
    return;
  add_whole (self, stretch, "offset", offset_ms, tpt_clock_say_record (offset_ms), TRUE);
}

void
tpt_clock_mend_stretch (TptClockPlan *self, guint index)
{
  const TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, index);

  if (stretch->pairs->len > 0)
    mend_by_pairs (self, stretch);
  else if (stretch->fell || (stretch->lost && stretch->to != TPT_NO_INSTANT))
    repair_by_visit (self, index);
  else
    {
      tpt_clock_add_own_change (self, stretch, NULL);
      mend_by_record (self, stretch);
    }
}
