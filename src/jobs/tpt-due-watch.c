/* Stretches of working time in which triggers were counted. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "sci-sun.h"
#include "tpt-due-facts-private.h"

/* Frames are counted by the week: short enough to show how clumped they are. */
#define WEEK (7 * TPT_DAY)
/* Triggers whose hour is looked at, and what the sun's own share is worth. */
#define NIGHT_TRIGGERS 60
#define NIGHT_PRIOR 10.0

/* Between two visits, or from the start to the first. */
typedef struct {
  TptInstant from;
  TptInstant to;
  const TptVisitRow *visit; /* (nullable): that ends it */
} Stretch;

static const TptTriggerRow *
triggers_of (const TptDueFacts *facts, const TptDueDeployment *deployment)
{
  return &g_array_index (facts->triggers, TptTriggerRow, deployment->first_trigger);
}

/* How many triggers lie before @at. */
static guint
count_before (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant at)
{
  const TptTriggerRow *rows = triggers_of (facts, deployment);
  guint low = 0, high = deployment->n_triggers;

  while (low < high)
    {
      guint middle = (low + high) / 2;

      if (rows[middle].at < at)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static void
add_watch (TptDueFacts *facts, TptDueDeployment *deployment, guint group, TptInstant from, TptInstant to, double n)
{
  SciWatch watch = { group, tpt_due_day (from), tpt_due_day (to) - tpt_due_day (from), n };

  if (to <= from)
    return;
  g_array_append_val (facts->watches, watch);
  deployment->n_watches++;
}

static gboolean
was_down (const TptVisitRow *visit)
{
  return g_str_equal (visit->found, "dead") || g_str_equal (visit->found, "card-full") || g_str_equal (visit->found, "gone");
}

/* A rig found out of order counts until its last frame. */
static void
watch_frames (TptDueFacts *facts, TptDueDeployment *deployment, guint group, const Stretch *stretch)
{
  guint first = count_before (facts, deployment, stretch->from), end = count_before (facts, deployment, stretch->to);
  TptInstant last = stretch->to;

  if (stretch->visit != NULL && was_down (stretch->visit))
    last = end > first ? triggers_of (facts, deployment)[end - 1].at : stretch->from;
  for (TptInstant from = stretch->from; from < last; from += WEEK)
    {
      TptInstant to = last - from < 2 * WEEK ? last : from + WEEK;
      guint n = count_before (facts, deployment, to == last ? stretch->to : to) - count_before (facts, deployment, from);

      add_watch (facts, deployment, group, from, to, n);
      if (to == last)
        return;
    }
}

static gboolean
has_fresh_card (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant from, TptInstant to)
{
  const GArray *list = g_hash_table_lookup (facts->fresh_cards, &deployment->station_id);

  /* Nobody keeps book of cards here: each visit takes the full one home. */
  if (list == NULL)
    return TRUE;
  for (guint i = 0; i < list->len; i++)
    if (g_array_index (list, TptInstant, i) >= from && g_array_index (list, TptInstant, i) < to)
      return TRUE;
  return FALSE;
}

/* Frames were counted on the card, some of which may have been there before. */
static void
watch_card (TptDueFacts *facts, TptDueDeployment *deployment, guint group, const Stretch *stretch, gint64 before)
{
  gint64 now = stretch->visit->frames_on_card;
  gboolean fresh = has_fresh_card (facts, deployment, stretch->from, stretch->to);

  if (was_down (stretch->visit) || (!fresh && before < 0))
    return;
  if (!fresh && now >= before)
    now -= before;
  add_watch (facts, deployment, group, stretch->from, stretch->to, (double) now / deployment->frames_per_trigger);
}

/* Frames came home from the first trigger's stretch to the last trigger's;
 * beyond, silence may as well be a card nobody took in. */
static gboolean
is_covered (const TptDueFacts *facts, const TptDueDeployment *deployment, const Stretch *stretch)
{
  const TptTriggerRow *rows = triggers_of (facts, deployment);

  return deployment->n_triggers > 0 && rows[0].at < stretch->to && rows[deployment->n_triggers - 1].at >= stretch->from;
}

static void
watch_stretch (TptDueFacts *facts, TptDueDeployment *deployment, guint group, const Stretch *stretch, gint64 before)
{
  if (stretch->to <= stretch->from || stretch->to < facts->on - TPT_DUE_MEMORY)
    return;
  if (is_covered (facts, deployment, stretch))
    watch_frames (facts, deployment, group, stretch);
  else if (stretch->visit != NULL && stretch->visit->frames_on_card >= 0)
    watch_card (facts, deployment, group, stretch, before);
}

static void
watch_deployment (TptDueFacts *facts, TptDueDeployment *deployment, guint group)
{
  guint n;
  const TptVisitRow *visits = tpt_due_facts_find_visits (facts, deployment->station_id, &n);
  Stretch stretch = { deployment->start, deployment->start, NULL };
  gint64 before = 0;

  deployment->first_watch = facts->watches->len;
  for (guint i = 0; i < n && visits[i].at <= deployment->end; i++)
    {
      if (visits[i].at <= deployment->start)
        continue;
      stretch.to = visits[i].at;
      stretch.visit = &visits[i];
      watch_stretch (facts, deployment, group, &stretch, before);
      stretch.from = visits[i].at;
      before = visits[i].frames_on_card;
    }
  /* Brought in without a visit on record. */
  if (deployment->end < facts->on && deployment->end > stretch.from)
    {
      stretch.to = deployment->end;
      stretch.visit = NULL;
      watch_stretch (facts, deployment, group, &stretch, before);
    }
}

void
tpt_due_find_watches (TptDueFacts *facts)
{
  for (guint i = 0; i < facts->deployments->len; i++)
    watch_deployment (facts, facts->deployments->pdata[i], i);
}

static const SciWatch *
watches_of (const TptDueFacts *facts, const TptDueDeployment *deployment)
{
  return &g_array_index (facts->watches, SciWatch, deployment->first_watch);
}

SciRate
tpt_due_rate (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant at)
{
  const SciWatch *watches = watches_of (facts, deployment);
  guint n = deployment->n_watches;

  while (n > 0 && watches[n - 1].from >= tpt_due_day (at))
    n--;
  return sci_traffic_rate (&facts->traffic, watches, n, tpt_due_day (at));
}

double
tpt_due_count_triggers (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant from, TptInstant to, double *rel)
{
  const SciWatch *watches = watches_of (facts, deployment);
  double start = tpt_due_day (from), end = tpt_due_day (to), counted = 0, open = end - start;

  *rel = 0;
  for (guint i = 0; i < deployment->n_watches && watches[i].from < end; i++)
    {
      double shared = fmin (end, watches[i].from + watches[i].days) - fmax (start, watches[i].from);

      if (shared <= 0)
        continue;
      counted += watches[i].n * shared / watches[i].days;
      open -= shared;
    }
  if (open > 1e-6)
    {
      SciRate rate = tpt_due_rate (facts, deployment, to);
      double mean, size, odds;

      rate.day = (start + end - open) / 2;
      mean = sci_rate_mean (&rate, open);
      sci_rate_count (&rate, open, &size, &odds);
      if (counted + mean > 0)
        *rel = sqrt (mean * (1 + odds)) / (counted + mean);
      counted += mean;
    }
  return counted;
}

double
tpt_due_night_share (const TptDueFacts *facts, const TptDueDeployment *deployment, TptInstant at)
{
  double latitude = deployment->latitude, longitude = deployment->longitude, dark, nights = 0;
  guint n = MIN (deployment->n_triggers, NIGHT_TRIGGERS);
  const TptTriggerRow *rows = triggers_of (facts, deployment);

  /* Without a position half the day is dark, as it is over a year anywhere. */
  if (isnan (latitude) || isnan (longitude))
    return 0.5;
  dark = sci_sun_dark_share (at, latitude, longitude, SCI_SUNRISE_ALTITUDE);
  for (guint i = deployment->n_triggers - n; i < deployment->n_triggers; i++)
    nights += sci_sun_altitude (rows[i].at, latitude, longitude) < SCI_SUNRISE_ALTITUDE;
  return (nights + NIGHT_PRIOR * dark) / (n + NIGHT_PRIOR);
}
