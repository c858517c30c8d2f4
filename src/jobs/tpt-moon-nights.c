#include "config.h"

#include "tpt-moon-nights-private.h"

#include <math.h>

#include "sci-night.h"

/* The moon moves half a degree in this time: pieces no longer belong to the eighth of their middle. */
#define PIECE TPT_HOUR

/* The sky of every day of the period, at midnight UTC, and one more on both sides. */
typedef struct {
  gint64 first; /* day */
  guint n;
  SciNightSky *days;
} Sky;

static gint64
find_day (TptInstant at)
{
  return (at >= 0 ? at : at - TPT_DAY + 1) / TPT_DAY;
}

static gboolean
fill_sky (Sky *sky, TptRange period, GCancellable *cancellable, GError **error)
{
  sky->first = find_day (period.from) - 1;
  sky->n = (guint) (find_day (period.to) + 3 - sky->first);
  sky->days = g_new (SciNightSky, sky->n);
  for (guint i = 0; i < sky->n; i++)
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      sky->days[i] = sci_night_sky ((sky->first + i) * TPT_DAY);
    }
  return TRUE;
}

static void
add_piece (TptMoonNights *nights, const Sky *sky, TptInstant from, TptInstant to)
{
  TptInstant middle = from + (to - from) / 2;
  guint day = (guint) CLAMP (find_day (middle) - sky->first, 0, (gint64) sky->n - 2);
  double elongation, lit, ms = (double) (to - from);

  sci_night_moon (&sky->days[day], &sky->days[day + 1], middle, &elongation, &lit);
  nights->dark_ms[sci_moon_eighth (elongation)] += ms;
  nights->all_ms += ms;
  nights->lit += lit * ms;
}

static void
add_worked (TptMoonNights *nights, const Sky *sky, TptRange worked, double latitude, double longitude)
{
  gint64 last = find_day (worked.to) + 1;

  for (gint64 day = find_day (worked.from) - 1; day <= last; day++)
    {
      guint i = (guint) CLAMP (day - sky->first, 0, (gint64) sky->n - 1);
      SciSpan dark = sci_night_dark (&sky->days[i], latitude, longitude, TPT_DARK_ALTITUDE);
      SciSpan part = sci_span_clip (dark, (SciSpan){ worked.from, worked.to });

      for (gint64 from = part.from; from < part.to; from += PIECE)
        add_piece (nights, sky, from, MIN (from + PIECE, part.to));
    }
}

static gboolean
has_place (TptRecord *place)
{
  return tpt_record_is_set (place, "latitude") && tpt_record_is_set (place, "longitude");
}

static void
add_effort (TptMoonNights *nights, const Sky *sky, const TptEffort *effort, TptRecord *place)
{
  if (!has_place (place))
    return;
  nights->nights += effort->nights;
  for (guint i = 0; i < effort->worked->len; i++)
    add_worked (nights, sky, g_array_index (effort->worked, TptRange, i), tpt_record_get_real (place, "latitude"),
                tpt_record_get_real (place, "longitude"));
}

gboolean
tpt_moon_nights_sum (TptPass *pass, TptMoonNights *nights, GCancellable *cancellable, GError **error)
{
  Sky sky = { 0, 0, NULL };
  gboolean good = TRUE;

  *nights = (TptMoonNights){ .lit = 0 };
  for (guint i = 0; i < pass->places->len; i++)
    nights->without_place += pass->nights[i] > 0 && !has_place (pass->places->pdata[i]);
  if (pass->period.from != TPT_NO_INSTANT)
    good = fill_sky (&sky, pass->period, cancellable, error);
  for (guint i = 0; good && i < pass->efforts->len; i++)
    {
      add_effort (nights, &sky, pass->efforts->pdata[i], pass->places->pdata[g_array_index (pass->effort_place, guint, i)]);
      good = !g_cancellable_set_error_if_cancelled (cancellable, error);
    }
  nights->lit = nights->all_ms > 0 ? nights->lit / nights->all_ms : NAN;
  g_free (sky.days);
  return good;
}
