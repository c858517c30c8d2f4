/* Where a card's readings are cut into stretches, and which pair belongs where. */
#include "tpt-clock-plan-private.h"

/* How far out of the deployment's time a clock in a wrong zone may seem. */
#define LEEWAY (36 * TPT_HOUR)
/* A leap into or out of the deployment's time. */
#define LEAP (7 * TPT_DAY)
/* Readings that go back by no more are a burst whose frames were stored out of order. */
#define JITTER TPT_MINUTE
/* More than any camera fires between two frames that are both on the card. */
#define WRAPPED 1000
/* A counter that began anew, in another folder, is not far yet. */
#define BEGUN 100
/* How exactly a camera changes its clock at the zone's change. */
#define CHANGE_SLOP (5 * TPT_MINUTE)

gboolean
tpt_clock_has_reading (const TptClockSight *sight)
{
  return sight->source != TPT_TIME_NONE && sight->source != TPT_TIME_FILE;
}

gboolean
tpt_clock_find_change (TptZone *zone, TptInstant from, TptInstant to, TptInstant *when, int *by_s)
{
  TptInstant low = from, high = from;
  int offset_s = tpt_zone_offset_at (zone, from);

  while (high < to && tpt_zone_offset_at (zone, high) == offset_s)
    {
      low = high;
      high = MIN (high + TPT_DAY, to);
    }
  if (tpt_zone_offset_at (zone, high) == offset_s)
    return FALSE;
  while (high - low > 1)
    {
      TptInstant middle = low + (high - low) / 2;

      if (tpt_zone_offset_at (zone, middle) == offset_s)
        low = middle;
      else
        high = middle;
    }
  *when = high;
  *by_s = tpt_zone_offset_at (zone, high) - offset_s;
  return TRUE;
}

static gboolean
is_inside (const TptClockKnown *known, TptInstant bare)
{
  TptInstant start = known->clock.start;
  TptInstant end = known->clock.end != TPT_NO_INSTANT ? known->clock.end : known->clock.now;

  return (start == TPT_NO_INSTANT || bare >= start - LEEWAY) && (end == TPT_NO_INSTANT || bare <= end + LEEWAY);
}

/* The longest a clock can have run between two things that belong together. */
static gint64
get_reach (const TptClockKnown *known)
{
  TptInstant start = known->clock.start;
  TptInstant end = known->clock.end != TPT_NO_INSTANT ? known->clock.end : known->clock.now;

  return start != TPT_NO_INSTANT && end > start ? end - start + LEEWAY : 400 * TPT_DAY;
}

/* Whether the camera went from @before to @after by changing its clock as the
 * zone does when it goes back. */
static gboolean
steps_back_with_zone (const TptClockKnown *known, TptInstant before, TptInstant after)
{
  TptInstant from = known->clock.start != TPT_NO_INSTANT ? known->clock.start : after;
  TptInstant change;
  int by_s;

  if (before - after > 2 * TPT_HOUR || before - LEEWAY < from ||
      !tpt_clock_find_change (known->clock.zone, before - LEEWAY, before + LEEWAY, &change, &by_s) || by_s >= 0)
    return FALSE;
  return before <= change + CHANGE_SLOP && after >= change + by_s * TPT_SECOND - CHANGE_SLOP &&
         before - after <= -by_s * TPT_SECOND + CHANGE_SLOP;
}

/* Whether running numbers say that @after was taken after @before. Without
 * numbers the order of names says nothing of time. */
static gboolean
goes_on (const TptClockSight *before, const TptClockSight *after)
{
  gint64 by = after->number - before->number;

  if (before->number < 0 || after->number < 0)
    return FALSE;
  return by > 0 ? by <= WRAPPED : after->number <= BEGUN;
}

/* Whether the clock was another after @before and before @after. */
static gboolean
is_cut (TptClockPlan *self, guint before, guint after)
{
  TptInstant from = self->bare[before], to = self->bare[after];
  gboolean was_in = is_inside (self->known, from), is_in = is_inside (self->known, to);

  if ((was_in != is_in && ABS (to - from) >= LEAP) || to - from > get_reach (self->known))
    return TRUE;
  if (to >= from - JITTER)
    return FALSE;
  if (was_in && is_in && !goes_on (&self->sights[before], &self->sights[after]))
    return FALSE;
  if (self->changed_at < 0 && steps_back_with_zone (self->known, from, to))
    {
      self->changed_at = (gint) after;
      return FALSE;
    }
  return TRUE;
}

static TptClockStretch *
begin_stretch (TptClockPlan *self, guint first)
{
  TptClockStretch stretch = { .first = first, .from = TPT_NO_INSTANT, .to = TPT_NO_INSTANT };

  stretch.pairs = g_array_new (FALSE, FALSE, sizeof (guint));
  g_array_append_val (self->stretches, stretch);
  return &g_array_index (self->stretches, TptClockStretch, self->stretches->len - 1);
}

static void
widen (TptClockStretch *stretch, TptInstant bare)
{
  stretch->from = stretch->from == TPT_NO_INSTANT ? bare : MIN (stretch->from, bare);
  stretch->to = MAX (stretch->to, bare);
}

/* A stretch is lost when most of it is. */
static void
count_in (TptClockStretch *stretch, gboolean is_in, gint *balance)
{
  *balance += is_in ? 1 : -1;
  stretch->lost = *balance < 0;
}

static void
cut (TptClockPlan *self)
{
  TptClockStretch *stretch = begin_stretch (self, 0);
  guint before = G_MAXUINT;
  gint balance = 0;

  for (guint i = 0; i < self->n; i++)
    {
      if (tpt_clock_has_reading (&self->sights[i]))
        {
          gboolean is_in = is_inside (self->known, self->bare[i]);

          if (before != G_MAXUINT && is_cut (self, before, i))
            {
              stretch = begin_stretch (self, i);
              stretch->fell = is_in && is_inside (self->known, self->bare[before]);
              balance = 0;
            }
          count_in (stretch, is_in, &balance);
          widen (stretch, self->bare[i]);
          before = i;
        }
      stretch->n++;
    }
}

static gint64
get_distance (const TptClockStretch *stretch, TptInstant bare)
{
  if (stretch->from == TPT_NO_INSTANT)
    return G_MAXINT64;
  return bare < stretch->from ? stretch->from - bare : bare > stretch->to ? bare - stretch->to : 0;
}

/* Whether a pair may speak for a stretch: a clock that lost its time shows no
 * date of the deployment, and the other way about. */
static gboolean
may_speak (TptClockPlan *self, const TptClockStretch *stretch, TptInstant bare)
{
  if (stretch->from == TPT_NO_INSTANT)
    return FALSE;
  return self->known->sure || (stretch->lost != is_inside (self->known, bare) &&
                               get_distance (stretch, bare) <= get_reach (self->known));
}

/* (nullable) */
static TptClockStretch *
find_nearest (TptClockPlan *self, TptInstant bare)
{
  TptClockStretch *best = NULL;

  for (guint i = 0; i < self->stretches->len; i++)
    {
      TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, i);

      if (may_speak (self, stretch, bare) && (best == NULL || get_distance (stretch, bare) <= get_distance (best, bare)))
        best = stretch;
    }
  return best;
}

/* (nullable): noted after everything, or before everything, a pair speaks for
 * the clock as it was then, though other stretches showed the same dates. */
static TptClockStretch *
find_stretch (TptClockPlan *self, guint pair)
{
  TptInstant bare = self->pair_bare[pair];
  TptClockStretch *last = &g_array_index (self->stretches, TptClockStretch, self->stretches->len - 1);
  TptClockStretch *first = &g_array_index (self->stretches, TptClockStretch, 0);

  if (pair + 1 == self->known->n_pairs && may_speak (self, last, bare) && bare >= last->to - JITTER)
    return last;
  if (pair == 0 && may_speak (self, first, bare) && bare <= first->from + JITTER)
    return first;
  return find_nearest (self, bare);
}

static int
compare_pairs_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  const TptInstant *bare = data;
  guint first = *(const guint *) a, second = *(const guint *) b;

  if (bare[first] != bare[second])
    return bare[first] < bare[second] ? -1 : 1;
  return first < second ? -1 : first > second;
}

/* Of the pairs before all frames of a stretch only the last bears on them, of
 * those after all only the first. */
static void
trim_pairs (TptClockPlan *self, TptClockStretch *stretch)
{
  GArray *pairs = stretch->pairs;

  while (pairs->len > 1 && self->pair_bare[g_array_index (pairs, guint, 1)] <= stretch->from)
    g_array_remove_index (pairs, 0);
  while (pairs->len > 1 && self->pair_bare[g_array_index (pairs, guint, pairs->len - 2)] >= stretch->to)
    g_array_set_size (pairs, pairs->len - 1);
}

void
tpt_clock_find_stretches (TptClockPlan *self)
{
  self->changed_at = -1;
  cut (self);
  for (guint i = 0; i < self->known->n_pairs; i++)
    {
      TptClockStretch *stretch = find_stretch (self, i);

      if (stretch != NULL)
        g_array_append_val (stretch->pairs, i);
    }
  for (guint i = 0; i < self->stretches->len; i++)
    {
      TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, i);

      g_array_sort_with_data (stretch->pairs, compare_pairs_cb, self->pair_bare);
      trim_pairs (self, stretch);
    }
}
