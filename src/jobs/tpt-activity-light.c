#include "config.h"

#include "tpt-activity-private.h"

#include <math.h>

#include "sci-sun-hour.h"

/* Sunrise moves by a few minutes a week at most. */
#define DAYS_APART 7

#define SUN_RISE 6.0
#define SUN_SET 18.0

typedef struct {
  const TptActivityOrder *order;
  TptZone *zone;
  TptHoursSun sun;
  double twilight;
  guint n_twilight;
} Light;

/* Hours of the project's clock since midnight of @day, which may lie outside 0 to 24. */
static double
read_clock (TptZone *zone, TptInstant at, gint64 day)
{
  gint64 local = at + tpt_zone_offset_at (zone, at) * TPT_SECOND;

  return CLAMP ((double) (local - day * TPT_DAY) / (double) TPT_HOUR, 0, 24);
}

/* The night has (24 - length of the day) hours, and 12 by the sun. */
static void
add_twilight (Light *light, double hours, double day_hours)
{
  if (isnan (hours))
    return;
  light->twilight += light->order->by_sun ? hours * 12 / (24 - day_hours) : hours;
  light->n_twilight++;
}

static void
add_day (Light *light, double latitude, double longitude, gint64 day)
{
  TptInstant noon = tpt_zone_day_from_number (light->zone, day) + TPT_DAY / 2;
  TptHoursSun *sun = &light->sun;
  int64_t rise, set;
  double twilight, rise_hour, set_hour;

  if (!sci_sun_rise_set (noon, latitude, longitude, &rise, &set, &twilight))
    return;
  add_twilight (light, twilight, (double) (set - rise) / (double) TPT_HOUR);
  rise_hour = light->order->by_sun ? SUN_RISE : read_clock (light->zone, rise, day);
  set_hour = light->order->by_sun ? SUN_SET : read_clock (light->zone, set, day);
  sun->rise_first = fmin (sun->rise_first, rise_hour); /* fmin() passes over NAN */
  sun->rise_last = fmax (sun->rise_last, rise_hour);
  sun->set_first = fmin (sun->set_first, set_hour);
  sun->set_last = fmax (sun->set_last, set_hour);
}

static void
add_pass (Light *light, TptPass *pass)
{
  gint64 first, last;

  if (pass->period.from == TPT_NO_INSTANT)
    return;
  first = tpt_zone_local_day (pass->zone, pass->period.from);
  last = tpt_zone_local_day (pass->zone, pass->period.to);
  for (guint i = 0; i < pass->places->len; i++)
    {
      double latitude, longitude;

      if (!(pass->nights[i] > 0) ||
          !tpt_activity_place (pass->places->pdata[i], light->order->decimals, &latitude, &longitude))
        continue;
      for (gint64 day = first; day <= last; day += DAYS_APART)
        add_day (light, latitude, longitude, day);
    }
}

TptHoursSun
tpt_activity_light (TptPass *pass, TptPass *other, const TptActivityOrder *order)
{
  Light light = { order, pass->zone, { NAN, NAN, NAN, NAN, NAN }, 0, 0 };

  add_pass (&light, pass);
  if (other != NULL && other != pass)
    add_pass (&light, other);
  if (light.n_twilight > 0)
    light.sun.twilight = light.twilight / light.n_twilight;
  return light.sun;
}
