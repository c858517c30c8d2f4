/* When in the day a species is about: a curve with its band, for one filter or for two side
 * by side with their overlap. */
#pragma once

#include "tpt-figure.h"
#include "tpt-filter.h"
#include "tpt-job.h"

G_BEGIN_DECLS

#define TPT_ACTIVITY_POINTS 288
#define TPT_ACTIVITY_POINTS_LEAST 8
#define TPT_ACTIVITY_POINTS_MOST 4096
#define TPT_ACTIVITY_BOOT 1000
#define TPT_ACTIVITY_BOOT_MOST 100000
#define TPT_ACTIVITY_SEED 1

/**
 * TptShare: part of the records, with its Wilson interval of 95 %.
 * @n: records in it
 */
typedef struct {
  gint64 n;
  double share;
  double low;
  double high;
} TptShare;

/**
 * TptActivity: of one filter. What the data cannot carry is NAN or %NULL, and @why_not says so.
 * @label: (owned): what it is of, for a legend
 * @n: detections with an hour, which everything here is of
 * @n_without: detections left out because their hour by the sun is not known
 * @by_hour: of @n, those in each whole hour
 * @kappa: concentration of the kernel
 * @mean_hour: circular mean, hours
 * @r: mean resultant length
 * @rayleigh_p: against no preferred hour; NAN below ten detections
 * @level: activity level: mean of the curve over its greatest value, 0 to 1
 * @peak_hour: where the curve is highest, hours
 * @n_points: of the next three
 * @density: (owned) (nullable): per hour, at 24 i / n_points; integrates to 1
 * @low, @high: (owned) (nullable): its band of 95 %, pointwise
 * @boot: resamples behind the band; 0 where the band is by its standard error
 * @n_light: detections with a known height of the sun
 * @day, @twilight, @night: of these: sun above -0.833, down to -6, below -6 degrees
 * @why_not: (owned) (nullable): why there is no curve or no band, and what would be needed; one sentence
 */
typedef struct {
  char *label;
  guint n;
  guint n_without;
  guint by_hour[24];
  double kappa;
  double mean_hour;
  double r;
  double rayleigh_p;
  double level;
  double peak_hour;
  guint n_points;
  double *density;
  double *low;
  double *high;
  guint boot;
  guint n_light;
  TptShare day;
  TptShare twilight;
  TptShare night;
  char *why_not;
} TptActivity;

/**
 * TptOverlap: of the two.
 * @estimator: "d1" when the smaller n is below 50, else "d4"
 * @value: 0 to 1; NAN with @why_not
 * @low, @high: its interval of 95 %; NAN where the two share detections
 * @watson_u2, @watson_p: Watson's two-sample test of the same distribution; NAN with fewer than ten
 *   detections in either, or where the two share some
 * @boot: resamples behind the interval; 0 where it is by the standard error
 * @why_not: why something of this is missing, and what would be needed; one sentence or two
 */
typedef struct {
  const char *estimator;
  double value;
  double low;
  double high;
  double watson_u2;
  double watson_p;
  guint boot;
  char *why_not; /* (owned) (nullable) */
} TptOverlap;

#define TPT_TYPE_JOB_ACTIVITY (tpt_job_activity_get_type ())
G_DECLARE_FINAL_TYPE (TptJobActivity, tpt_job_activity, TPT, JOB_ACTIVITY, TptJob)

/**
 * tpt_job_activity_new:
 * @filter: copied; its hours choose records like everything else in it: leave them out to see the whole day
 * @by_sun: hours between sunrise at 6 and sunset at 18, else of the project's clock
 */
TptJobActivity *tpt_job_activity_new (const TptFilter *filter, gboolean by_sun);

/* Besides, another filter: two series and their overlap. Copied. */
void tpt_job_activity_compare (TptJobActivity *self, const TptFilter *other);

/* Points of the curve (%TPT_ACTIVITY_POINTS unless set) and resamples (0 to %TPT_ACTIVITY_BOOT_MOST;
 * %TPT_ACTIVITY_BOOT), held within their limits. */
void tpt_job_activity_set_detail (TptJobActivity *self, guint points, guint boot);

/* Names the resamples: the same seed gives the same numbers, whatever the machine (%TPT_ACTIVITY_SEED). */
void tpt_job_activity_set_seed (TptJobActivity *self, guint64 seed);

/* Made for others: nothing in it is finer than the cell that the project, the stations and the species ask for. */
void tpt_job_activity_set_discreet (TptJobActivity *self, gboolean discreet);

/* (transfer none) (nullable): @which 0 or, compared, 1. */
const TptActivity *tpt_job_activity_get (TptJobActivity *self, guint which);
/* (transfer none) (nullable): when compared. */
const TptOverlap *tpt_job_activity_get_overlap (TptJobActivity *self);
/* (transfer none): kind "hours". */
TptFigure *tpt_job_activity_get_figure (TptJobActivity *self);
/* (transfer none): what the curve says, in a sentence or two: "60 detections, most at 07:10 and ...". */
const char *tpt_job_activity_get_sentence (TptJobActivity *self);
/* (transfer none): how it was counted and reckoned. */
const char *tpt_job_activity_get_method (TptJobActivity *self);

G_END_DECLS
