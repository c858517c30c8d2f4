/* Whole hours: wrong zones, and cameras that change their clock by themselves. */
#include "tpt-clock-plan-private.h"

/* A clock that was set by eye, and ran for some weeks. */
#define NEAR (5 * TPT_MINUTE)
/* Whoever sets a camera up or takes it down sets it off. */
#define SET_OFF (15 * TPT_MINUTE)
/* Less than this outside the deployment is the deployment's times being rounded. */
#define ROUNDED (10 * TPT_MINUTE)

/* Minutes east of UTC that are in use beside whole hours from -12 to +14. IANA time
 * zone database, as of 2024. */
static const int odd_zones[] = { -570, -210, -150, 210, 270, 330, 345, 390, 525, 570, 630, 765, 825 };

/* The zone nearest to @offset_ms, in milliseconds. */
static gint64
find_zone (gint64 offset_ms)
{
  gint64 hours = (offset_ms >= 0 ? offset_ms + TPT_HOUR / 2 : offset_ms - TPT_HOUR / 2) / TPT_HOUR;
  gint64 best = CLAMP (hours, -12, 14) * TPT_HOUR;

  for (guint i = 0; i < G_N_ELEMENTS (odd_zones); i++)
    if (ABS (odd_zones[i] * TPT_MINUTE - offset_ms) < ABS (best - offset_ms))
      best = odd_zones[i] * TPT_MINUTE;
  return best;
}

gint64
tpt_clock_find_zone_shift (gint64 error_ms, int base_s)
{
  gint64 shown = base_s * TPT_SECOND - error_ms;
  gint64 zone = find_zone (shown);

  return ABS (zone - shown) <= NEAR ? base_s * TPT_SECOND - zone : 0;
}

static gboolean
is_in (const TptClockStretch *stretch, gint frame)
{
  return frame >= 0 && (guint) frame >= stretch->first && (guint) frame - stretch->first < stretch->n;
}

/* Whether pairs tell that the camera followed a change at @change by @by_ms. */
static gboolean
follows_by_pairs (TptClockPlan *self, const TptClockStretch *stretch, const gint64 *errors, TptInstant change, gint64 by_ms)
{
  gint before = -1, after = -1;

  for (guint i = 0; i < stretch->pairs->len; i++)
    {
      if (self->known->pairs[g_array_index (stretch->pairs, guint, i)].true_at < change)
        before = (gint) i;
      else if (after < 0)
        after = (gint) i;
    }
  if (after < 0)
    return FALSE;
  if (before < 0)
    return stretch->from < change && ABS (errors[after] + by_ms) <= NEAR;
  return ABS (errors[after] - errors[before] + by_ms) <= NEAR;
}

void
tpt_clock_add_own_change (TptClockPlan *self, const TptClockStretch *stretch, gint64 *errors)
{
  const TptClockKnown *known = self->known;
  TptInstant from = known->clock.start != TPT_NO_INSTANT ? known->clock.start : stretch->from, to = stretch->to, change;
  gboolean seen = is_in (stretch, self->changed_at);
  TptClockStretch after = *stretch;
  TptClockMend *step;
  guint index;
  int by_s;

  if (stretch->from == TPT_NO_INSTANT)
    return;
  for (guint i = 0; i < stretch->pairs->len; i++)
    to = MAX (to, known->pairs[g_array_index (stretch->pairs, guint, i)].true_at);
  if (!tpt_clock_find_change (known->clock.zone, from, to + TPT_CLOCK_FAR, &change, &by_s) ||
      !(seen || follows_by_pairs (self, stretch, errors, change, by_s * TPT_SECOND)))
    return;

  for (guint i = 0; i < stretch->pairs->len; i++)
    if (known->pairs[g_array_index (stretch->pairs, guint, i)].true_at >= change)
      errors[i] += by_s * TPT_SECOND;
  if (seen)
    {
      after.n -= (guint) self->changed_at - after.first;
      after.first = (guint) self->changed_at;
    }
  step = tpt_clock_want_step (self, "hour", &index);
  tpt_clock_say (step, tpt_clock_say_own_change (self, change));
  step->proposed = TRUE;
  tpt_clock_add_part (self, index, &after, seen ? TPT_NO_INSTANT : change, TPT_NO_INSTANT, 0, -by_s * 1000.0, 0);
}

static gboolean
is_free (const TptClockStretch *stretch)
{
  return stretch->pairs->len == 0 && !stretch->lost && !stretch->fell && stretch->from != TPT_NO_INSTANT;
}

/* What the frames without a pair come to, with the steps proposed so far. */
typedef struct {
  TptInstant *at; /* (owned) */
  TptInstant first;
  TptInstant last;
  int base_s;
} Free;

static gboolean
collect_free (TptClockPlan *self, Free *free_frames)
{
  g_auto (GStrv) proposed = tpt_clock_plan_list_proposed (self);

  *free_frames = (Free){ g_new0 (TptInstant, self->n + 1), TPT_NO_INSTANT, TPT_NO_INSTANT, 0 };
  tpt_clock_plan_apply (self, (const char *const *) proposed, free_frames->at);
  for (guint s = 0; s < self->stretches->len; s++)
    {
      const TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, s);

      for (guint i = stretch->first; is_free (stretch) && i < stretch->first + stretch->n; i++)
        if (tpt_clock_has_reading (&self->sights[i]))
          {
            if (free_frames->first == TPT_NO_INSTANT)
              free_frames->base_s = (int) ((self->sights[i].reading.clock_ms - self->bare[i]) / TPT_SECOND);
            free_frames->first =
              free_frames->first == TPT_NO_INSTANT ? free_frames->at[i] : MIN (free_frames->first, free_frames->at[i]);
            free_frames->last = MAX (free_frames->last, free_frames->at[i]);
          }
    }
  return free_frames->first != TPT_NO_INSTANT;
}

/* Whether all would lie inside, and the frame at the edge close to it. */
static gboolean
brings_inside (const TptClock *clock, const Free *frames, gint64 shift, gboolean at_start)
{
  TptInstant first = frames->first + shift, last = frames->last + shift;

  if ((clock->start != TPT_NO_INSTANT && first < clock->start - TPT_MINUTE) ||
      (clock->end != TPT_NO_INSTANT && last > clock->end + TPT_MINUTE))
    return FALSE;
  return at_start ? first <= clock->start + SET_OFF : last >= clock->end - SET_OFF;
}

static gint64
find_shift_by_bounds (const TptClock *clock, const Free *frames, gboolean *at_start)
{
  gboolean early = clock->start != TPT_NO_INSTANT && frames->first < clock->start - ROUNDED;
  gboolean late = clock->end != TPT_NO_INSTANT && frames->last > clock->end + ROUNDED;

  *at_start = early;
  if (early == late)
    return 0;
  for (gint64 shift = TPT_HOUR / 4; shift <= 14 * TPT_HOUR; shift += TPT_HOUR / 4)
    {
      gint64 signed_shift = early ? shift : -shift;
      gint64 shown = frames->base_s * TPT_SECOND - signed_shift;

      if (find_zone (shown) == shown && brings_inside (clock, frames, signed_shift, early))
        return signed_shift;
    }
  return 0;
}

static void
add_free_hours (TptClockPlan *self, gint64 shift_ms, char *says, gboolean proposed)
{
  guint index;
  TptClockMend *step = tpt_clock_want_step (self, "hour", &index);

  tpt_clock_say (step, says);
  step->proposed = proposed;
  for (guint s = 0; s < self->stretches->len; s++)
    {
      const TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, s);

      if (is_free (stretch))
        tpt_clock_add_part (self, index, stretch, TPT_NO_INSTANT, TPT_NO_INSTANT, 0, (double) shift_ms, 0);
    }
}

static gboolean
has_hours (TptClockPlan *self)
{
  const char *hour[] = { "hour", NULL };

  return tpt_clock_plan_find_unknown (self, hour) == NULL;
}

static gboolean
sun_agrees (TptClockPlan *self, const TptInstant *at, gint64 shift_ms)
{
  TptClockLight without = tpt_clock_count_light (self, at, TRUE, 0);
  TptClockLight with = tpt_clock_count_light (self, at, TRUE, shift_ms);
  guint before = without.bright + without.dark, after = with.bright + with.dark;

  return before >= 5 && 10 * after <= before;
}

static void
add_hours (TptClockPlan *self, const Free *frames)
{
  gboolean at_start;
  gint64 shift_ms = find_shift_by_bounds (&self->known->clock, frames, &at_start);
  int hours = shift_ms == 0 ? tpt_clock_find_hours_by_light (self, frames->at) : 0;

  if (shift_ms != 0)
    {
      gboolean agrees = sun_agrees (self, frames->at, shift_ms);

      add_free_hours (self, shift_ms, tpt_clock_say_bound (shift_ms, at_start, agrees), agrees);
    }
  else if (hours != 0)
    add_free_hours (self, hours * TPT_HOUR, tpt_clock_say_sun (hours), FALSE);
}

void
tpt_clock_add_hours_without_pair (TptClockPlan *self)
{
  Free frames;

  if (has_hours (self))
    return;
  if (collect_free (self, &frames))
    add_hours (self, &frames);
  g_free (frames.at);
}
