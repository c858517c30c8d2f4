#include "config.h"

#include "tpt-job-sun.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "sci-generalise.h"
#include "sci-moon.h"
#include "sci-sun.h"
#include "tpt-discretion-private.h"
#include "tpt-error.h"
#include "tpt-records.h"
#include "tpt-words.h"

/* The finest grid without leave, decimals of a degree. */
#define FINEST_DECIMALS 1

#define FIRST_YEAR 1900
#define LAST_YEAR 2100

G_STATIC_ASSERT (SCI_NO_INSTANT == TPT_NO_INSTANT);
G_STATIC_ASSERT ((int) SCI_MOON_LAST_QUARTER == (int) TPT_MOON_LAST_QUARTER);

struct _TptJobSun {
  TptJob parent_instance;

  /* Input arguments */
  GStrv stations; /* (owned) (nullable) */
  char *date;     /* (owned) */
  gboolean exact;

  /* In-progress data */
  SciPlace place;

  /* Results */
  TptSky sky;
};

G_DEFINE_FINAL_TYPE (TptJobSun, tpt_job_sun, TPT_TYPE_JOB)

/* A date alone, so that nobody takes a time of day to matter. */
static gboolean
read_date (const char *text, gint64 *day, GError **error)
{
  TptReading reading;
  int year, month, month_day;

  if (strlen (text) != strlen ("2026-06-12") || !tpt_reading_parse (text, &reading, NULL))
    {
      g_autofree char *shown = tpt_words_shorten (text);

      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is not a date such as 2026-06-12"), shown);
      return FALSE;
    }
  *day = reading.clock_ms / TPT_DAY - (reading.clock_ms % TPT_DAY < 0);
  tpt_civil_from_days (*day, &year, &month, &month_day);
  if (year >= FIRST_YEAR && year <= LAST_YEAR)
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("Sun and moon are reckoned for the years %d to %d, not for %s"), FIRST_YEAR,
               LAST_YEAR, text);
  return FALSE;
}

static gboolean
find_date (TptJobSun *self, TptZone *zone, GError **error)
{
  gint64 day;

  if (!read_date (self->date, &day, error))
    return FALSE;
  self->sky.date.from = tpt_zone_day_from_number (zone, day);
  self->sky.date.to = tpt_zone_day_from_number (zone, day + 1);
  if (self->sky.date.from < self->sky.date.to)
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("The date %s was left out in %s, where the calendar was moved on"), self->date,
               tpt_zone_get_identifier (zone));
  return FALSE;
}

static gboolean
is_meant (TptJobSun *self, TptRecord *station)
{
  return self->stations == NULL ||
         g_strv_contains ((const char *const *) self->stations, tpt_record_get_code (station));
}

/* Adds unit vectors, which have a middle also across 180 degrees. */
static void
add_place (double sum[3], TptRecord *station)
{
  double latitude = tpt_record_get_real (station, "latitude") * SCI_DEGREE;
  double longitude = tpt_record_get_real (station, "longitude") * SCI_DEGREE;

  sum[0] += cos (latitude) * cos (longitude);
  sum[1] += cos (latitude) * sin (longitude);
  sum[2] += sin (latitude);
}

static gboolean
refuse_nowhere (TptJobSun *self, GPtrArray *stations, GError **error)
{
  if (stations->len == 0)
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("There are no stations in this project yet"));
  else if (self->stations != NULL && g_strv_length (self->stations) == 1)
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("The position of station “%s” is not on record"), self->stations[0]);
  else
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_DATA, _("No position of any of the stations is on record"));
  return FALSE;
}

static gboolean
find_place (TptJobSun *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);
  int decimals = MIN (FINEST_DECIMALS, tpt_discretion_floor (store));
  double sum[3] = { 0, 0, 0 };

  if (stations == NULL)
    return FALSE;
  for (guint i = 0; i < stations->len; i++)
    {
      TptRecord *station = stations->pdata[i];

      if (!is_meant (self, station) || !tpt_record_is_set (station, "latitude") || !tpt_record_is_set (station, "longitude"))
        continue;
      add_place (sum, station);
      decimals = MIN (decimals, tpt_discretion_decimals (station));
      self->sky.n_stations++;
    }
  if (self->sky.n_stations == 0)
    return refuse_nowhere (self, stations, error);

  self->place.latitude = atan2 (sum[2], hypot (sum[0], sum[1])) / SCI_DEGREE;
  self->place.longitude = atan2 (sum[1], sum[0]) / SCI_DEGREE;
  if (!self->exact)
    {
      self->place = sci_generalise_round (self->place, decimals);
      self->sky.cell_deg = pow (10, -decimals);
    }
  return TRUE;
}

/* To the second: what is finer than that is not known. */
static TptInstant
round_instant (TptInstant instant)
{
  gint64 over;

  if (instant == TPT_NO_INSTANT)
    return instant;
  over = (instant + TPT_SECOND / 2) % TPT_SECOND;
  return instant + TPT_SECOND / 2 - (over < 0 ? over + TPT_SECOND : over);
}

static TptPassage
take_passage (SciPassage passage)
{
  static const TptStays stays[] = {
    [SCI_PASSAGE_CROSSES] = TPT_STAYS_NOT,
    [SCI_PASSAGE_ABOVE] = TPT_STAYS_ABOVE,
    [SCI_PASSAGE_BELOW] = TPT_STAYS_BELOW,
  };

  return (TptPassage){ stays[passage.kind], round_instant (passage.up), round_instant (passage.down) };
}

static void
find_sun (TptSky *sky, SciPlace place)
{
  SciSunDay day = sci_sun_day (sky->date.from, sky->date.to, place.latitude, place.longitude);

  sky->sun = take_passage (day.rise);
  sky->civil = take_passage (day.civil);
  sky->nautical = take_passage (day.nautical);
  sky->noon = round_instant (day.transit);
  sky->noon_altitude = day.transit_altitude;
}

static TptMoonFace
name_face (const TptSky *sky, double elongation)
{
  static const TptMoonFace quarters[] = {
    TPT_MOON_WAXING_CRESCENT, TPT_MOON_WAXING_GIBBOUS, TPT_MOON_WANING_GIBBOUS, TPT_MOON_WANING_CRESCENT,
  };

  for (int i = 0; i < TPT_MOON_N_PHASES; i++)
    if (sky->next[i] < sky->date.to)
      return (TptMoonFace) i;
  return quarters[CLAMP ((int) (elongation / 90), 0, 3)];
}

static void
find_moon (TptSky *sky, SciPlace place)
{
  TptInstant middle = sky->date.from + (sky->date.to - sky->date.from) / 2;
  SciMoonLight light = sci_moon_light (sci_ephemeris_day (middle));

  sky->moon = take_passage (sci_moon_day (sky->date.from, sky->date.to, place.latitude, place.longitude));
  sky->moon_lit = light.lit;
  for (int i = 0; i < TPT_MOON_N_PHASES; i++)
    sky->next[i] = round_instant (sci_moon_phase_next (sky->date.from, (SciMoonPhase) i));
  sky->moon_face = name_face (sky, light.elongation);
}

static gboolean
tpt_job_sun_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobSun *self = TPT_JOB_SUN (job);

  if (!find_date (self, tpt_store_get_zone (store), error) ||
      !tpt_store_check_stations (store, (const char *const *) self->stations, error) || !find_place (self, store, error))
    return FALSE;
  find_sun (&self->sky, self->place);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  find_moon (&self->sky, self->place);
  return TRUE;
}

static void
tpt_job_sun_dispose (GObject *object)
{
  TptJobSun *self = TPT_JOB_SUN (object);

  g_clear_pointer (&self->stations, g_strfreev);
  g_clear_pointer (&self->date, g_free);

  G_OBJECT_CLASS (tpt_job_sun_parent_class)->dispose (object);
}

static void
tpt_job_sun_class_init (TptJobSunClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_sun_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_sun_run;
}

static void
tpt_job_sun_init (TptJobSun *self)
{
}

TptJobSun *
tpt_job_sun_new (const char *const *stations, const char *date, gboolean exact)
{
  TptJobSun *self = g_object_new (TPT_TYPE_JOB_SUN, NULL);

  self->stations = g_strdupv ((char **) stations);
  self->date = g_strdup (date);
  self->exact = exact;
  return self;
}

const TptSky *
tpt_job_sun_get_sky (TptJobSun *self)
{
  return &self->sky;
}
