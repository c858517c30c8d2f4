/* Whether the light in the pictures agrees with the sun. */
#include "config.h"

#include "tpt-clock-plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-sun.h"

/* Exposure values at ISO 100. Sunlight is 15, heavy overcast 12, deep shade 8;
 * a full moon -2, a lit street 4. Common practice, from memory. */
#define BRIGHT_EV 9.0
#define DARK_EV 2.0
#define DOWN_DEG (-6.0)
#define UP_DEG 20.0
/* Frames asked of the sun at most, evenly taken: it is asked for every hour. */
#define MOST_ASKED 1500
/* Least evidence, and what may be left of it after a shift that mends clearly. */
#define LEAST_AGAINST 5
#define LEFT_SHARE 0.1

typedef struct {
  TptInstant at;
  gboolean bright;
} Lit;

static gboolean
uses_flash_as_needed (TptClockPlan *self)
{
  guint with = 0, without = 0;

  for (guint i = 0; i < self->n; i++)
    {
      with += self->sights[i].flash == 1;
      without += self->sights[i].flash == 0;
    }
  return 4 * without >= with + without;
}

static gboolean
is_bright (const TptClockSight *sight)
{
  return sight->flash != 1 && sight->exposure_value >= BRIGHT_EV;
}

static gboolean
is_dark (const TptClockSight *sight, gboolean flash_counts)
{
  return sight->flash == 1 ? flash_counts : sight->exposure_value < DARK_EV;
}

/* (transfer full) (element-type Lit) */
static GArray *
collect_lit (TptClockPlan *self, const TptInstant *at, gboolean free_only)
{
  GArray *lit = g_array_new (FALSE, FALSE, sizeof (Lit));
  gboolean flash_counts = uses_flash_as_needed (self);

  for (guint s = 0; s < self->stretches->len; s++)
    {
      const TptClockStretch *stretch = &g_array_index (self->stretches, TptClockStretch, s);

      if (free_only && (stretch->pairs->len > 0 || stretch->lost || stretch->fell))
        continue;
      for (guint i = stretch->first; i < stretch->first + stretch->n; i++)
        {
          Lit one = { at[i], is_bright (&self->sights[i]) };

          if (tpt_clock_has_reading (&self->sights[i]) && (one.bright || is_dark (&self->sights[i], flash_counts)))
            g_array_append_val (lit, one);
        }
    }
  return lit;
}

static gboolean
knows_place (TptClockPlan *self)
{
  return isfinite (self->known->latitude) && isfinite (self->known->longitude);
}

static TptClockLight
count (TptClockPlan *self, GArray *lit, gint64 add_ms, double *score)
{
  TptClockLight light = { 0 };
  guint step = lit->len / MOST_ASKED + 1;

  *score = 0;
  for (guint i = 0; i < lit->len; i += step)
    {
      const Lit *one = &g_array_index (lit, Lit, i);
      double altitude = sci_sun_altitude (one->at + add_ms, self->known->latitude, self->known->longitude);

      light.seen++;
      light.bright += one->bright && altitude < DOWN_DEG;
      light.dark += !one->bright && altitude > UP_DEG;
      *score += sin (altitude * G_PI / 180.0) * (one->bright ? 1 : -1);
    }
  return light;
}

TptClockLight
tpt_clock_count_light (TptClockPlan *self, const TptInstant *at, gboolean free_only, gint64 add_ms)
{
  g_autoptr (GArray) lit = collect_lit (self, at, free_only);
  double score;

  return knows_place (self) ? count (self, lit, add_ms, &score) : (TptClockLight){ 0 };
}

/* Days and nights are long: the light tells no better than this. */
#define LEAST_HOURS 3

/* Of the shifts that mend, the one at which what is bright stands in the
 * highest sun and what is dark in the lowest. */
int
tpt_clock_find_hours_by_light (TptClockPlan *self, const TptInstant *at)
{
  g_autoptr (GArray) lit = collect_lit (self, at, TRUE);
  double score, best_score = -INFINITY;
  TptClockLight now;
  int best = 0;

  if (!knows_place (self))
    return 0;
  now = count (self, lit, 0, &score);
  if (now.bright + now.dark < LEAST_AGAINST)
    return 0;
  for (int hours = -12; hours <= 12; hours++)
    {
      TptClockLight light = count (self, lit, hours * TPT_HOUR, &score);

      if (light.bright + light.dark <= LEFT_SHARE * (now.bright + now.dark) && score > best_score)
        {
          best = hours;
          best_score = score;
        }
    }
  return ABS (best) >= LEAST_HOURS ? best : 0;
}

void
tpt_clock_doubt_light (TptClockPlan *self, const TptInstant *at)
{
  TptClockLight light = tpt_clock_count_light (self, at, FALSE, 0);

  if (light.bright > 0)
    g_ptr_array_add (self->doubts,
                     g_strdup_printf (ngettext ("%1$u of %2$u frames whose light can be told is bright although the sun was down: "
                                                "the clock may have been wrong.",
                                                "%1$u of %2$u frames whose light can be told are bright although the sun was down: "
                                                "the clock may have been wrong.",
                                                light.bright),
                                      light.bright, light.seen));
  if (light.dark > 0)
    g_ptr_array_add (self->doubts,
                     g_strdup_printf (ngettext ("%1$u of %2$u frames whose light can be told is dark although the sun stood high: "
                                                "the clock may have been wrong.",
                                                "%1$u of %2$u frames whose light can be told are dark although the sun stood high: "
                                                "the clock may have been wrong.",
                                                light.dark),
                                      light.dark, light.seen));
}
