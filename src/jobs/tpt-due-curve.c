#include "config.h"

#include "tpt-due-curve-private.h"

#include <math.h>

typedef struct {
  double day;
  double chance;
  double lost; /* from 0 to the day */
} Knot;

struct _TptDueCurve {
  GArray *knots; /* (owned) (element-type Knot): by day */
};

static int
compare_days (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* Only the integral needs the chance half-way as well. */
static void
add_knot (TptDueCurve *self, double day, gboolean costly, TptChanceFunc chance, gpointer data)
{
  Knot knot = { day, chance (day, data), 0 };

  if (self->knots->len > 0)
    {
      const Knot *last = &g_array_index (self->knots, Knot, self->knots->len - 1);
      double step = day - last->day;

      if (step <= 0)
        return;
      knot.lost = !costly ? NAN : last->lost + step / 6 * (last->chance + 4 * chance (last->day + step / 2, data) + knot.chance);
    }
  g_array_append_val (self->knots, knot);
}

TptDueCurve *
tpt_due_curve_new (GArray *days, gboolean costly, TptChanceFunc chance, gpointer data)
{
  TptDueCurve *self = g_new0 (TptDueCurve, 1);

  self->knots = g_array_new (FALSE, FALSE, sizeof (Knot));
  g_array_sort (days, compare_days);
  for (guint i = 0; i < days->len; i++)
    add_knot (self, g_array_index (days, double, i), costly, chance, data);
  return self;
}

void
tpt_due_curve_free (TptDueCurve *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->knots);
  g_free (self);
}

/* The knot that ends the stretch in which @day lies; at least the second. */
static const Knot *
find_end (const TptDueCurve *self, double day)
{
  guint low = 1, high = self->knots->len - 1;

  while (low < high)
    {
      guint middle = (low + high) / 2;

      if (g_array_index (self->knots, Knot, middle).day >= day)
        high = middle;
      else
        low = middle + 1;
    }
  return &g_array_index (self->knots, Knot, low);
}

double
tpt_due_curve_get_chance (const TptDueCurve *self, double day)
{
  const Knot *end = find_end (self, day), *begin = end - 1;
  double share = CLAMP ((day - begin->day) / (end->day - begin->day), 0, 1);

  return begin->chance + share * (end->chance - begin->chance);
}

double
tpt_due_curve_get_lost (const TptDueCurve *self, double day)
{
  const Knot *end = find_end (self, day), *begin = end - 1;
  double step = end->day - begin->day;
  double t = CLAMP ((day - begin->day) / step, 0, 1);
  double rise = t * t * (3 - 2 * t);

  return begin->lost + rise * (end->lost - begin->lost)
         + step * t * (1 - t) * ((1 - t) * begin->chance - t * end->chance);
}
