#include "config.h"

#include "tpt-activity-private.h"

#include <math.h>

#include "sci-circular.h"
#include "sci-generalise.h"
#include "sci-poisson.h"
#include "sci-sun-hour.h"
#include "sci-sun.h"
#include "tpt-share-private.h"

/* Values of resampled curves that are kept at a time: 128 MB. */
#define MOST_VALUES (16 * 1024 * 1024)

gboolean
tpt_activity_place (TptRecord *station, int decimals, double *latitude, double *longitude)
{
  SciPlace place;

  if (!tpt_record_is_set (station, "latitude") || !tpt_record_is_set (station, "longitude"))
    return FALSE;
  place = (SciPlace){ tpt_record_get_real (station, "latitude"), tpt_record_get_real (station, "longitude") };
  if (decimals >= 0)
    place = sci_generalise_round (place, decimals);
  *latitude = place.latitude;
  *longitude = place.longitude;
  return TRUE;
}

/* An hour by the sun is as good as a position: where places are hidden it is reckoned for the hidden place. */
static double
find_hour (const TptActivitySeries *self, const TptDetection *detection, const TptActivityOrder *order)
{
  double latitude, longitude;

  if (!order->by_sun || order->decimals < 0)
    return tpt_pass_get_hour (self->pass, detection, order->by_sun);
  if (!tpt_activity_place (self->pass->places->pdata[detection->place], order->decimals, &latitude, &longitude))
    return NAN;
  return sci_sun_hour (detection->at, latitude, longitude);
}

/* In order, so that sums do not depend on that of the records. */
static void
collect_hours (TptActivitySeries *self, const TptActivityOrder *order)
{
  for (guint i = 0; i < self->picked->len; i++)
    {
      double hour = find_hour (self, &g_array_index (self->picked, TptDetection, i), order);

      if (isnan (hour))
        self->found.n_without++;
      else
        g_array_append_val (self->hours, hour);
    }
  sci_hours_sort ((double *) (gpointer) self->hours->data, self->hours->len);
  self->found.n = self->hours->len;
  for (guint i = 0; i < self->hours->len; i++)
    self->found.by_hour[(guint) g_array_index (self->hours, double, i)]++;
}

static void
fill_share (TptShare *share, gint64 n)
{
  SciInterval interval = sci_wilson (share->n, n, TPT_ACTIVITY_LEVEL);

  share->share = interval.estimate;
  share->low = interval.lower;
  share->high = interval.upper;
}

static void
count_light (TptActivitySeries *self)
{
  TptActivity *found = &self->found;

  for (guint i = 0; i < self->picked->len; i++)
    {
      double altitude = tpt_pass_get_altitude (self->pass, &g_array_index (self->picked, TptDetection, i));

      if (isnan (altitude))
        continue;
      found->n_light++;
      if (altitude > SCI_SUNRISE_ALTITUDE)
        found->day.n++;
      else if (altitude >= SCI_CIVIL_ALTITUDE)
        found->twilight.n++;
      else
        found->night.n++;
    }
  fill_share (&found->day, found->n_light);
  fill_share (&found->twilight, found->n_light);
  fill_share (&found->night, found->n_light);
}

static void
summarise (TptActivitySeries *self)
{
  const double *hours = (const double *) (gpointer) self->hours->data;
  SciCircular circular = sci_circular_summary (hours, self->hours->len);

  self->found.mean_hour = circular.mean_hour;
  self->found.r = circular.r;
  self->found.rayleigh_p = self->hours->len >= TPT_ACTIVITY_TESTED ? circular.p : NAN;
}

static void
draw_curve (TptActivitySeries *self, guint points)
{
  TptActivity *found = &self->found;
  SciActivityPeak peak = sci_activity_peak (self->curve);

  found->kappa = sci_activity_get_bandwidth (self->curve);
  found->peak_hour = peak.hour;
  found->level = peak.level;
  found->n_points = points;
  found->density = g_new (double, points);
  found->low = g_new (double, points);
  found->high = g_new (double, points);
  sci_activity_curve (self->curve, points, found->density);
}

/* Resampled curves of a stretch of points, side by side. */
typedef struct {
  TptActivitySeries *series;
  const TptActivityOrder *order;
  guint first;
  guint n;
  double *values; /* those of one point together */
} Resampling;

static void
resample_cb (gpointer data, guint index)
{
  Resampling *all = data;
  g_autofree double *density = g_new (double, all->order->points);

  if (!sci_activity_resample (all->series->curve, all->order->seed, index, all->order->points, density))
    g_error ("no memory for a resample");
  for (guint i = 0; i < all->n; i++)
    all->values[(gsize) i * all->order->boot + index] = density[all->first + i];
}

static void
limit_cb (gpointer data, guint index)
{
  Resampling *all = data;
  TptActivity *found = &all->series->found;
  guint point = all->first + index;

  sci_percentiles (all->values + (gsize) index * all->order->boot, all->order->boot, TPT_ACTIVITY_LEVEL,
                   &found->low[point], &found->high[point]);
}

/* As many points at a time as there is room for; the same resamples come again for the next. */
static gboolean
resample_band (TptActivitySeries *self, const TptActivityOrder *order, GCancellable *cancellable, GError **error)
{
  guint at_once = CLAMP (MOST_VALUES / order->boot, 1, order->points);
  g_autofree double *values = g_new (double, (gsize) at_once * order->boot);

  for (guint first = 0; first < order->points; first += at_once)
    {
      Resampling all = { self, order, first, MIN (at_once, order->points - first), values };

      tpt_share_work (order->boot, resample_cb, &all, cancellable);
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      tpt_share_work (all.n, limit_cb, &all, NULL);
    }
  self->found.boot = order->boot;
  return TRUE;
}

static gboolean
draw_band (TptActivitySeries *self, const TptActivityOrder *order, GCancellable *cancellable, GError **error)
{
  if (order->boot > 0 && self->hours->len <= SCI_ACTIVITY_RESAMPLED_MOST)
    return resample_band (self, order, cancellable, error);
  if (!sci_activity_band (self->curve, order->points, TPT_ACTIVITY_LEVEL, self->found.low, self->found.high))
    g_error ("no memory for a band");
  return TRUE;
}

gboolean
tpt_activity_series_fill (TptActivitySeries *self,
                          const TptActivityOrder *order,
                          GCancellable *cancellable,
                          GError **error)
{
  collect_hours (self, order);
  count_light (self);
  summarise (self);
  self->found.why_not = tpt_activity_say_why_not (self->hours, self->found.n_without);
  if (self->found.why_not != NULL)
    return TRUE;
  self->curve = sci_activity_new ((const double *) (gpointer) self->hours->data, self->hours->len, NAN);
  if (self->curve == NULL)
    g_error ("no memory for a curve");
  draw_curve (self, order->points);
  return draw_band (self, order, cancellable, error);
}

TptActivitySeries *
tpt_activity_series_new (TptStore *store, const TptFilter *filter, GCancellable *cancellable, GError **error)
{
  g_autoptr (TptActivitySeries) self = g_new0 (TptActivitySeries, 1);
  g_autofree gboolean *chosen = NULL;

  self->found.kappa = self->found.mean_hour = self->found.r = self->found.rayleigh_p = NAN;
  self->found.level = self->found.peak_hour = NAN;
  self->filter = tpt_filter_copy (filter);
  self->hours = g_array_new (FALSE, FALSE, sizeof (double));
  self->pass = tpt_pass_get (store, filter, cancellable, error);
  chosen = self->pass != NULL ? tpt_pass_choose (self->pass, (const char *const *) filter->species, error) : NULL;
  if (chosen == NULL)
    return NULL;
  self->picked = tpt_pass_pick (self->pass, chosen);
  self->found.label = tpt_pass_name_species (self->pass, (const char *const *) filter->species);
  return g_steal_pointer (&self);
}

void
tpt_activity_series_free (TptActivitySeries *self)
{
  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->pass, tpt_pass_unref);
  g_clear_pointer (&self->picked, g_array_unref);
  g_clear_pointer (&self->hours, g_array_unref);
  g_clear_pointer (&self->curve, sci_activity_free);
  g_free (self->found.label);
  g_free (self->found.density);
  g_free (self->found.low);
  g_free (self->found.high);
  g_free (self->found.why_not);
  g_free (self);
}
