#include "config.h"

#include "tpt-moon-nights-private.h"

#include <math.h>

#include "sci-generalise.h"
#include "sci-night.h"

/* Stations of one cell of this many decimals of a degree share the ends of the night: it
 * moves them by some 12 s. */
#define CELL_DECIMALS 1

/* The moon moves half a degree in this time: an hour belongs to the eighth of its middle. */
#define STEP TPT_HOUR
#define STEPS_A_DAY (TPT_DAY / STEP)

/**
 * Almanac:
 * @first: the first day, two before the period
 * @n: days, three after it
 * @skies: of each day, at midnight UTC
 * @nights: (element-type SciSpan): by cell, the dark around each midnight
 * @full: for each hour, how many more stations are dark and at work from it on than before
 * @part: for each hour, ms worked in the dark by stations for a part of it
 */
typedef struct {
  gint64 first;
  guint n;
  SciNightSky *skies;
  GHashTable *nights;
  int *full;
  double *part;
} Almanac;

static gint64
find_day (TptInstant at)
{
  return (at >= 0 ? at : at - TPT_DAY + 1) / TPT_DAY;
}

static gboolean
fill_almanac (Almanac *self, TptRange period, GCancellable *cancellable, GError **error)
{
  self->first = find_day (period.from) - 2;
  self->n = (guint) (find_day (period.to) + 4 - self->first);
  self->skies = g_new (SciNightSky, self->n);
  self->nights = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->full = g_new0 (int, self->n * STEPS_A_DAY + 1);
  self->part = g_new0 (double, self->n * STEPS_A_DAY + 1);
  for (guint i = 0; i < self->n; i++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      self->skies[i] = sci_night_sky ((self->first + i) * TPT_DAY);
    }
  return TRUE;
}

static void
clear_almanac (Almanac *self)
{
  g_clear_pointer (&self->nights, g_hash_table_unref);
  g_free (self->skies);
  g_free (self->full);
  g_free (self->part);
}

/* (transfer none): the dark of every day at a station. */
static const SciSpan *
get_nights (Almanac *self, TptRecord *place)
{
  SciPlace cell = sci_generalise_centre (
    (SciPlace){ tpt_record_get_real (place, "latitude"), tpt_record_get_real (place, "longitude") }, CELL_DECIMALS);
  char *key = g_strdup_printf ("%.3f %.3f", cell.latitude, cell.longitude);
  SciSpan *nights = g_hash_table_lookup (self->nights, key);

  if (nights != NULL)
    {
      g_free (key);
      return nights;
    }
  nights = g_new (SciSpan, self->n);
  for (guint i = 0; i < self->n; i++)
    nights[i] = sci_night_dark (&self->skies[i], cell.latitude, cell.longitude, TPT_DARK_ALTITUDE);
  g_hash_table_insert (self->nights, key, nights);
  return nights;
}

/* Whole hours are only begun and ended here; what they amount to is summed once. */
static void
add_dark (Almanac *self, SciSpan dark)
{
  gint64 origin = self->first * TPT_DAY;
  gint64 begin = (dark.from - origin) / STEP, end = (dark.to - origin) / STEP;
  gint64 after_begin = dark.from - origin - begin * STEP, after_end = dark.to - origin - end * STEP;

  self->full[begin]++;
  self->full[end]--;
  self->part[begin] -= (double) after_begin;
  self->part[end] += (double) after_end;
}

static void
add_worked (Almanac *self, TptRange worked, const SciSpan *nights)
{
  gint64 last = MIN (find_day (worked.to) + 1, self->first + self->n - 1);

  for (gint64 day = MAX (find_day (worked.from) - 1, self->first); day <= last; day++)
    {
      SciSpan part = sci_span_clip (nights[day - self->first], (SciSpan){ worked.from, worked.to });

      if (part.from < part.to)
        add_dark (self, part);
    }
}

static gboolean
has_place (TptRecord *place)
{
  return tpt_record_is_set (place, "latitude") && tpt_record_is_set (place, "longitude");
}

static void
add_efforts (Almanac *self, TptPass *pass, TptMoonNights *nights)
{
  for (guint i = 0; i < pass->efforts->len; i++)
    {
      const TptEffort *effort = pass->efforts->pdata[i];
      TptRecord *place = pass->places->pdata[g_array_index (pass->effort_place, guint, i)];

      if (!has_place (place))
        continue;
      nights->nights += effort->nights;
      for (guint k = 0; k < effort->worked->len; k++)
        add_worked (self, g_array_index (effort->worked, TptRange, k), get_nights (self, place));
    }
}

static void
sum (const Almanac *self, TptMoonNights *nights)
{
  gint64 stations = 0;
  guint n = (self->n - 1) * STEPS_A_DAY;

  for (guint i = 0; i < n; i++)
    {
      gint64 middle = self->first * TPT_DAY + i * STEP + STEP / 2;
      guint day = i / STEPS_A_DAY;
      double elongation, lit, ms;

      stations += self->full[i];
      ms = (double) (stations * STEP) + self->part[i];
      if (ms <= 0)
        continue;
      sci_night_moon (&self->skies[day], &self->skies[day + 1], middle, &elongation, &lit);
      nights->dark_ms[sci_moon_eighth (elongation)] += ms;
      nights->all_ms += ms;
      nights->lit += lit * ms;
    }
}

gboolean
tpt_moon_nights_sum (TptPass *pass, TptMoonNights *nights, GCancellable *cancellable, GError **error)
{
  Almanac almanac = { .first = 0 };
  gboolean good = TRUE;

  *nights = (TptMoonNights){ .lit = 0 };
  for (guint i = 0; i < pass->places->len; i++)
    nights->without_place += pass->nights[i] > 0 && !has_place (pass->places->pdata[i]);
  if (pass->period.from != TPT_NO_INSTANT)
    {
      good = fill_almanac (&almanac, pass->period, cancellable, error);
      if (good)
        {
          add_efforts (&almanac, pass, nights);
          sum (&almanac, nights);
        }
      clear_almanac (&almanac);
    }
  nights->lit = nights->all_ms > 0 ? nights->lit / nights->all_ms : NAN;
  return good;
}
