/* What the sun and the moon do on a date where the cameras stand. */
#pragma once

#include "tpt-job.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/* Whether something crosses a level on a date, or stays on one side of it. */
typedef enum {
  TPT_STAYS_NOT,
  TPT_STAYS_ABOVE,
  TPT_STAYS_BELOW,
} TptStays;

/**
 * TptPassage:
 * @stays: %TPT_STAYS_NOT when at least one of the two happens
 * @up: or %TPT_NO_INSTANT
 * @down: or %TPT_NO_INSTANT
 */
typedef struct {
  TptStays stays;
  TptInstant up;
  TptInstant down;
} TptPassage;

typedef enum {
  TPT_MOON_NEW, /* these four: on the date on which it happens */
  TPT_MOON_FIRST_QUARTER,
  TPT_MOON_FULL,
  TPT_MOON_LAST_QUARTER,
  TPT_MOON_WAXING_CRESCENT,
  TPT_MOON_WAXING_GIBBOUS,
  TPT_MOON_WANING_GIBBOUS,
  TPT_MOON_WANING_CRESCENT,
} TptMoonFace;

#define TPT_MOON_N_PHASES 4

/**
 * TptSky:
 * @date: the local civil date, which has 23 or 25 hours when clocks change
 * @n_stations: how many stations it was reckoned for the middle of
 * @cell_deg: side of the cell the place was rounded to, degrees; 0 for the exact place
 * @sun: sunrise and sunset
 * @civil: dawn and dusk
 * @nautical: dawn and dusk
 * @moon: moonrise and moonset
 * @noon: the sun at its highest; %TPT_NO_INSTANT where the zone's date holds none
 * @noon_altitude: degrees; NAN without @noon
 * @moon_lit: share of the disc, 0 to 1, at the middle of the date
 * @moon_face: by the date
 * @next: the first new moon, first quarter, full moon and last quarter from the
 *   date's beginning on
 */
typedef struct {
  TptRange date;
  guint n_stations;
  double cell_deg;
  TptPassage sun;
  TptPassage civil;
  TptPassage nautical;
  TptPassage moon;
  TptInstant noon;
  double noon_altitude;
  double moon_lit;
  TptMoonFace moon_face;
  TptInstant next[TPT_MOON_N_PHASES];
} TptSky;

#define TPT_TYPE_JOB_SUN (tpt_job_sun_get_type ())
G_DECLARE_FINAL_TYPE (TptJobSun, tpt_job_sun, TPT, JOB_SUN, TptJob)

/**
 * tpt_job_sun_new:
 * @stations: (nullable): codes; %NULL for all. Of several it is the middle of
 *   those whose position is known
 * @date: `YYYY-MM-DD`, in the project's zone, 1900 to 2100
 * @exact: reckon for the place itself. Otherwise for a grid of at least a tenth
 *   of a degree: such times and heights give a place away as well as its
 *   coordinates do. Below 50 degrees of latitude that puts sunrise and sunset
 *   off by at most half a minute; by up to five minutes on the grid of whole
 *   degrees of a station of extreme sensitivity
 *
 * Fails with %TPT_ERROR_USAGE for no such date, with %TPT_ERROR_DATA for no
 * such station and when no position is known.
 */
TptJobSun *tpt_job_sun_new (const char *const *stations, const char *date, gboolean exact);

/* (transfer none): after it has run. */
const TptSky *tpt_job_sun_get_sky (TptJobSun *self);

G_END_DECLS
