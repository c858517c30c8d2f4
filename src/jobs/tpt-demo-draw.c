#include "config.h"

#include <math.h>

#include "sci-random.h"
#include "tpt-demo-private.h"

/* By the hours a species keeps: a wrapped normal around its peak. */
static double
draw_hour (const TptDemoSpecies *species, guint64 key)
{
  double spread = 0;

  for (guint i = 0; i < 6; i++)
    spread += sci_random_uniform (key, DRAW_SPREAD, i) - 0.5;
  return fmod (species->peak + spread * 1.414 * species->spread + 48, 24);
}

static int
draw_species (guint station, guint64 key)
{
  double total = 0, at;

  for (guint pass = 0; pass < 2; pass++)
    {
      at = pass == 1 ? total * sci_random_uniform (key, DRAW_SPECIES, 1) : 0;
      for (guint i = 0; i < demo_n_species; i++)
        {
          /* Every place suits some better than others. */
          double suits = 0.15 + 2 * pow (sci_random_uniform (station, DRAW_PLACE, 50 + i), 2);

          if (pass == 0)
            total += demo_species[i].weight * suits;
          else if ((at -= demo_species[i].weight * suits) < 0)
            return (int) i;
        }
    }
  return 0;
}

static TptDemoBurst
draw_burst (guint station, gint64 day, guint of_day)
{
  guint64 key = ((guint64) station << 40) + ((guint64) day << 8) + of_day;
  double kind = sci_random_uniform (key, DRAW_KIND, 1), hour = 24 * sci_random_uniform (key, DRAW_HOUR, 1);
  TptDemoBurst burst = { 0, -1, 0 };

  if (kind < (demo_stations[station].sunlit ? 0.3 : 0.52))
    {
      burst.species = draw_species (station, key);
      hour = draw_hour (&demo_species[burst.species], key);
      burst.animals = 1 + (int) (demo_species[burst.species].group * pow (sci_random_uniform (key, DRAW_COUNT, 1), 3));
    }
  else if (kind > 0.97)
    burst.species = -2;
  else if (kind > 0.93)
    burst.species = -3;
  burst.at = day * TPT_DAY + (TptInstant) (hour * TPT_HOUR) - TPT_DEMO_ZONE_MS;
  return burst;
}

static int
compare_bursts_cb (gconstpointer a, gconstpointer b)
{
  const TptDemoBurst *x = a, *y = b;

  return (x->at > y->at) - (x->at < y->at);
}

GArray *
tpt_demo_draw_bursts (const TptDemoStory *told, TptInstant from, TptInstant to, double busy)
{
  GArray *bursts = g_array_new (FALSE, FALSE, sizeof (TptDemoBurst));
  double rate = told->station->triggers_per_day * busy;

  for (gint64 day = (from + TPT_DEMO_ZONE_MS) / TPT_DAY; day <= (to + TPT_DEMO_ZONE_MS) / TPT_DAY; day++)
    {
      /* A number of bursts with the right mean and some clumping. */
      double u = sci_random_uniform (told->number, DRAW_GAP, (guint64) day);
      guint n = (guint) floor (-log (1 - u * 0.9995) * rate + sci_random_uniform (told->number, DRAW_GAP + 1000, (guint64) day) * 0.5);

      for (guint i = 0; i < n; i++)
        {
          TptDemoBurst burst = draw_burst (told->number, day, i);

          if (burst.at > from + TPT_HOUR && burst.at < to - TPT_HOUR)
            g_array_append_val (bursts, burst);
        }
    }
  g_array_sort (bursts, compare_bursts_cb);
  return bursts;
}

gboolean
tpt_demo_is_night (TptInstant at)
{
  gint64 hour = ((at + TPT_DEMO_ZONE_MS) % TPT_DAY) / TPT_HOUR;

  return hour < 6 || hour >= 18;
}
