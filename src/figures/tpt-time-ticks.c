#include "tpt-time-ticks.h"

#include "tpt-words.h"

typedef struct {
  TptTickStep step;
  gint64 length; /* about, milliseconds */
} Step;

static const Step steps[] = {
  { { TPT_TICK_MINUTES, 1 }, TPT_MINUTE },
  { { TPT_TICK_MINUTES, 5 }, 5 * TPT_MINUTE },
  { { TPT_TICK_MINUTES, 15 }, 15 * TPT_MINUTE },
  { { TPT_TICK_MINUTES, 30 }, 30 * TPT_MINUTE },
  { { TPT_TICK_HOURS, 1 }, TPT_HOUR },
  { { TPT_TICK_HOURS, 3 }, 3 * TPT_HOUR },
  { { TPT_TICK_HOURS, 6 }, 6 * TPT_HOUR },
  { { TPT_TICK_HOURS, 12 }, 12 * TPT_HOUR },
  { { TPT_TICK_DAYS, 1 }, TPT_DAY },
  { { TPT_TICK_DAYS, 2 }, 2 * TPT_DAY },
  { { TPT_TICK_DAYS, 7 }, 7 * TPT_DAY },
  { { TPT_TICK_DAYS, 14 }, 14 * TPT_DAY },
  { { TPT_TICK_MONTHS, 1 }, 30 * TPT_DAY },
  { { TPT_TICK_MONTHS, 3 }, 91 * TPT_DAY },
  { { TPT_TICK_MONTHS, 6 }, 182 * TPT_DAY },
  { { TPT_TICK_YEARS, 1 }, 365 * TPT_DAY },
  { { TPT_TICK_YEARS, 2 }, 2 * 365 * TPT_DAY },
  { { TPT_TICK_YEARS, 5 }, 5 * 365 * TPT_DAY },
  { { TPT_TICK_YEARS, 10 }, 10 * 365 * TPT_DAY },
  { { TPT_TICK_YEARS, 50 }, 50 * 365 * TPT_DAY },
};

static void
append_tick (GArray *ticks,
             TptRange range,
             TptInstant at,
             const char *label,
             const char *context)
{
  TptTick tick = { at };

  if (at < range.from || at > range.to)
    return;

  g_strlcpy (tick.label, label, sizeof tick.label);
  g_strlcpy (tick.context, context, sizeof tick.context);
  g_array_append_val (ticks, tick);
}

/* An hour that comes twice has two ticks, where the step is not longer than it. */
static void
append_clock_ticks (GArray *ticks,
                    TptRange range,
                    TptZone *zone,
                    gint64 day,
                    gint64 step)
{
  g_autofree char *context = NULL;
  int year, month, of_month;

  tpt_civil_from_days (day, &year, &month, &of_month);
  context = g_strdup_printf ("%d %s %d", of_month, tpt_words_month_short (month), year);

  for (gint64 clock = 0; clock < TPT_DAY; clock += step)
    {
      char label[24];
      TptInstant first, second;
      TptLocalFit fit = tpt_zone_resolve (zone, day * TPT_DAY + clock, &first, &second);

      if (fit == TPT_LOCAL_NEVER)
        continue;
      g_snprintf (label, sizeof label, "%02d:%02d", (int) (clock / TPT_HOUR), (int) (clock % TPT_HOUR / TPT_MINUTE));
      append_tick (ticks, range, first, label, context);
      if (fit == TPT_LOCAL_TWICE && step <= TPT_HOUR)
        append_tick (ticks, range, second, label, context);
    }
}

/* The 29th to 31st stand too near the 1st to be ticked by steps over a day. */
static gboolean
is_ticked_day (int of_month,
               int step)
{
  if (step == 1)
    return TRUE;
  return (of_month - 1) % step == 0 && of_month + step <= 31;
}

static void
append_day_tick (GArray *ticks,
                 TptRange range,
                 TptZone *zone,
                 gint64 day,
                 int step)
{
  g_autofree char *context = NULL;
  char label[24];
  int year, month, of_month;

  tpt_civil_from_days (day, &year, &month, &of_month);
  if (!is_ticked_day (of_month, step))
    return;

  context = g_strdup_printf ("%s %d", tpt_words_month_short (month), year);
  g_snprintf (label, sizeof label, "%d", of_month);
  append_tick (ticks, range, tpt_zone_day_from_number (zone, day), label, context);
}

static void
append_days (GArray *ticks,
             TptRange range,
             TptZone *zone,
             TptTickStep step)
{
  gint64 first = tpt_zone_local_day (zone, range.from);
  gint64 last = tpt_zone_local_day (zone, range.to);

  for (gint64 day = first; day <= last; day++)
    if (step.unit == TPT_TICK_DAYS)
      append_day_tick (ticks, range, zone, day, step.count);
    else
      append_clock_ticks (ticks, range, zone, day,
                          step.count * (step.unit == TPT_TICK_HOURS ? TPT_HOUR : TPT_MINUTE));
}

static void
append_months (GArray *ticks,
               TptRange range,
               TptZone *zone,
               int step)
{
  int year, month, of_month;
  TptInstant at;

  tpt_civil_from_days (tpt_zone_local_day (zone, range.from), &year, &month, &of_month);
  month = (month - 1) / step * step + 1;
  do
    {
      char context[16];

      at = tpt_zone_day_from_number (zone, tpt_days_from_civil (year, month, 1));
      g_snprintf (context, sizeof context, "%d", year);
      append_tick (ticks, range, at, tpt_words_month_short (month), context);
      month += step;
      year += (month - 1) / 12;
      month = (month - 1) % 12 + 1;
    }
  while (at <= range.to);
}

static void
append_years (GArray *ticks,
              TptRange range,
              TptZone *zone,
              int step)
{
  int year, month, of_month;
  TptInstant at;

  tpt_civil_from_days (tpt_zone_local_day (zone, range.from), &year, &month, &of_month);
  year -= year % step;
  do
    {
      char label[16];

      at = tpt_zone_day_from_number (zone, tpt_days_from_civil (year, 1, 1));
      g_snprintf (label, sizeof label, "%d", year);
      append_tick (ticks, range, at, label, "");
      year += step;
    }
  while (at <= range.to);
}

static int
compare_ticks (gconstpointer a,
               gconstpointer b)
{
  const TptTick *tick_a = a;
  const TptTick *tick_b = b;

  return (tick_a->at > tick_b->at) - (tick_a->at < tick_b->at);
}

static void
keep_changing_contexts (GArray *ticks)
{
  g_autofree char *last = g_strdup ("");

  for (guint i = 0; i < ticks->len; i++)
    {
      TptTick *tick = &g_array_index (ticks, TptTick, i);

      if (g_str_equal (tick->context, last))
        tick->context[0] = '\0';
      else
        {
          g_free (last);
          last = g_strdup (tick->context);
        }
    }
}

GArray *
tpt_time_ticks_at_step (TptRange range,
                        TptZone *zone,
                        TptTickStep step)
{
  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (TptTick));

  if (step.unit == TPT_TICK_YEARS)
    append_years (ticks, range, zone, step.count);
  else if (step.unit == TPT_TICK_MONTHS)
    append_months (ticks, range, zone, step.count);
  else
    append_days (ticks, range, zone, step);

  g_array_sort (ticks, compare_ticks);
  keep_changing_contexts (ticks);
  return ticks;
}

TptTickStep
tpt_time_ticks_step (TptRange range,
                     TptZone *zone,
                     int max_ticks)
{
  gint64 span = range.to - range.from;

  for (guint i = 0; i < G_N_ELEMENTS (steps) - 1; i++)
    {
      g_autoptr (GArray) ticks = NULL;

      /* Far too many: no need to count them. */
      if (span / steps[i].length > 2 * max_ticks + 2)
        continue;
      ticks = tpt_time_ticks_at_step (range, zone, steps[i].step);
      if ((int) ticks->len <= max_ticks)
        return steps[i].step;
    }

  return steps[G_N_ELEMENTS (steps) - 1].step;
}

GArray *
tpt_time_ticks (TptRange range,
                TptZone *zone,
                int max_ticks)
{
  return tpt_time_ticks_at_step (range, zone, tpt_time_ticks_step (range, zone, MAX (max_ticks, 1)));
}
