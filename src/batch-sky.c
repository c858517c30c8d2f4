#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "batch-private.h"
#include "tpt-job-sun.h"
#include "tpt-number.h"
#include "tpt-words.h"

static const char *
face_key (TptMoonFace face)
{
  static const char *const keys[] = {
    "new", "first-quarter", "full", "last-quarter", "waxing-crescent", "waxing-gibbous", "waning-gibbous", "waning-crescent",
  };

  return keys[face];
}

static const char *
face_word (TptMoonFace face)
{
  static const char *const words[] = {
    N_("new moon"),        N_("first quarter"),  N_("full moon"),      N_("last quarter"),
    N_("waxing crescent"), N_("waxing gibbous"), N_("waning gibbous"), N_("waning crescent"),
  };

  return _(words[face]);
}

/* Of one station its code; of the middle of several, null. */
static const char *
station_of (BatchOptions *options)
{
  return options->stations != NULL && options->stations[1] == NULL ? options->stations[0] : NULL;
}

static void
add_stays (JsonBuilder *builder, const char *name, const TptPassage *passage)
{
  static const char *const keys[] = { NULL, "above", "below" };

  batch_add_text (builder, name, keys[passage->stays]);
}

static void
add_sun (JsonBuilder *builder, const TptSky *sky, TptZone *zone)
{
  batch_add_instant (builder, "nautical_dawn", sky->nautical.up, zone);
  batch_add_instant (builder, "civil_dawn", sky->civil.up, zone);
  batch_add_instant (builder, "rise", sky->sun.up, zone);
  batch_add_instant (builder, "noon", sky->noon, zone);
  batch_add_real (builder, "noon_altitude_deg", sky->noon_altitude);
  batch_add_instant (builder, "set", sky->sun.down, zone);
  batch_add_instant (builder, "civil_dusk", sky->civil.down, zone);
  batch_add_instant (builder, "nautical_dusk", sky->nautical.down, zone);
  add_stays (builder, "sun_stays", &sky->sun);
  add_stays (builder, "civil_stays", &sky->civil);
  add_stays (builder, "nautical_stays", &sky->nautical);
}

static void
add_moon (JsonBuilder *builder, const TptSky *sky, TptZone *zone)
{
  batch_add_instant (builder, "moonrise", sky->moon.up, zone);
  batch_add_instant (builder, "moonset", sky->moon.down, zone);
  add_stays (builder, "moon_stays", &sky->moon);
  batch_add_real (builder, "moon_lit", sky->moon_lit);
  batch_add_text (builder, "moon_phase", face_key (sky->moon_face));
  batch_add_instant (builder, "next_new", sky->next[TPT_MOON_NEW], zone);
  batch_add_instant (builder, "next_first_quarter", sky->next[TPT_MOON_FIRST_QUARTER], zone);
  batch_add_instant (builder, "next_full", sky->next[TPT_MOON_FULL], zone);
  batch_add_instant (builder, "next_last_quarter", sky->next[TPT_MOON_LAST_QUARTER], zone);
}

static void
print_sun_json (BatchOptions *options, const TptSky *sky, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_text (builder, "date", options->words->pdata[2]);
  batch_add_text (builder, "zone", tpt_zone_get_identifier (zone));
  batch_add_text (builder, "station", station_of (options));
  batch_add_count (builder, "stations", sky->n_stations);
  batch_add_flag (builder, "generalised", sky->cell_deg > 0);
  batch_add_real (builder, "cell_deg", sky->cell_deg > 0 ? sky->cell_deg : NAN);
  add_sun (builder, sky, zone);
  add_moon (builder, sky, zone);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

/* (transfer full): "05:14", to the nearest minute within the date; with its
 * offset on a date on which that changes. */
static char *
format_time (TptInstant instant, const TptSky *sky, TptZone *zone)
{
  TptInstant shown = MIN (instant + TPT_MINUTE / 2, sky->date.to - 1);
  gboolean changes = tpt_zone_offset_at (zone, sky->date.from) != tpt_zone_offset_at (zone, sky->date.to - 1);
  g_autofree char *text = tpt_instant_format (shown, zone);
  gsize length = strlen (text);

  /* as "2026-06-12T05:14:31.250+08:00" */
  return changes ? g_strdup_printf ("%.5s%s", text + 11, text + length - 6) : g_strndup (text + 11, 5);
}

/* @words: what to say of something that stays above and below. */
static void
add_time (BatchTable *table, const char *what, TptInstant instant, const TptPassage *passage, const char *const words[2],
          const TptSky *sky, TptZone *zone)
{
  g_autofree char *text = instant != TPT_NO_INSTANT ? format_time (instant, sky, zone) : NULL;

  batch_table_add (table, what);
  if (text != NULL)
    batch_table_add (table, text);
  else if (passage->stays != TPT_STAYS_NOT)
    batch_table_add (table, _(words[passage->stays == TPT_STAYS_BELOW]));
  else
    batch_table_add (table, _("not on this date"));
}

static void
add_noon (BatchTable *table, const TptSky *sky, TptZone *zone)
{
  g_autofree char *time = sky->noon != TPT_NO_INSTANT ? format_time (sky->noon, sky, zone) : NULL;
  g_autofree char *altitude = time != NULL ? tpt_number_format_fixed (fabs (sky->noon_altitude), 0) : NULL;
  g_autofree char *text = NULL;

  if (time == NULL)
    text = g_strdup (_("not on this date"));
  else if (sky->noon_altitude >= 0)
    /* Translators: a time of day, and degrees. */
    text = g_strdup_printf (_("%s, the sun %s° high"), time, altitude);
  else
    text = g_strdup_printf (_("%s, the sun %s° below the horizon"), time, altitude);
  batch_table_add (table, _("noon"));
  batch_table_add (table, text);
}

static void
print_times (const TptSky *sky, TptZone *zone)
{
  static const char *const sun[] = { N_("the sun does not set"), N_("the sun does not rise") };
  static const char *const twilight[] = { N_("it does not get that dark"), N_("it does not get that light") };
  static const char *const moon[] = { N_("the moon does not set"), N_("the moon does not rise") };
  BatchTable *table = batch_table_new (_("what"), _("when"), NULL);

  add_time (table, _("nautical dawn"), sky->nautical.up, &sky->nautical, twilight, sky, zone);
  add_time (table, _("civil dawn"), sky->civil.up, &sky->civil, twilight, sky, zone);
  add_time (table, _("sunrise"), sky->sun.up, &sky->sun, sun, sky, zone);
  add_noon (table, sky, zone);
  add_time (table, _("sunset"), sky->sun.down, &sky->sun, sun, sky, zone);
  add_time (table, _("civil dusk"), sky->civil.down, &sky->civil, twilight, sky, zone);
  add_time (table, _("nautical dusk"), sky->nautical.down, &sky->nautical, twilight, sky, zone);
  add_time (table, _("moonrise"), sky->moon.up, &sky->moon, moon, sky, zone);
  add_time (table, _("moonset"), sky->moon.down, &sky->moon, moon, sky, zone);
  batch_table_print (table);
}

static void
print_title (BatchOptions *options, const TptSky *sky, TptZone *zone)
{
  g_autofree char *date = tpt_words_date (sky->date.from, zone);
  const char *station = station_of (options);

  if (station != NULL)
    /* Translators: a date, a station's code, a time zone. */
    printf (_("%s, station %s (%s)\n\n"), date, station, tpt_zone_get_identifier (zone));
  else if (sky->n_stations == 1)
    printf (_("%s, the one station with a position (%s)\n\n"), date, tpt_zone_get_identifier (zone));
  else
    printf (ngettext ("%s, the middle of %u station (%s)\n\n", "%s, the middle of %u stations (%s)\n\n", sky->n_stations), date,
            sky->n_stations, tpt_zone_get_identifier (zone));
}

static void
print_moon (const TptSky *sky, TptZone *zone)
{
  g_autofree char *lit = tpt_number_format_fixed (sky->moon_lit * 100, 0);
  g_autofree char *full = tpt_words_day (sky->next[TPT_MOON_FULL], zone, sky->date.from);
  g_autofree char *dark = tpt_words_day (sky->next[TPT_MOON_NEW], zone, sky->date.from);

  /* Translators: a share, and a phase such as "waxing crescent". */
  printf (_("\nThe moon is %s %% lit at the middle of the date: %s.\n"), lit, face_word (sky->moon_face));
  printf (_("Next full moon %s, next new moon %s.\n"), full, dark);
}

static void
print_footing (const TptSky *sky)
{
  g_autofree char *cell = tpt_number_format_fixed (sky->cell_deg, 1);

  printf ("%s\n", _("Reckoned for an open horizon: hills and forest shorten the light by many minutes."));
  if (sky->cell_deg > 0)
    /* Translators: a number of degrees. */
    printf (_("The place is rounded to %s° so that these times do not give it away; --exact takes it as it is.\n"), cell);
}

int
batch_sun (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobSun) job = NULL;
  GError *error = NULL;
  const TptSky *sky;

  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  job = tpt_job_sun_new ((const char *const *) options->stations, options->words->pdata[2], options->exact);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  sky = tpt_job_sun_get_sky (job);
  if (options->json)
    {
      print_sun_json (options, sky, tpt_project_get_zone (project));
      return BATCH_DONE;
    }
  print_title (options, sky, tpt_project_get_zone (project));
  print_times (sky, tpt_project_get_zone (project));
  print_moon (sky, tpt_project_get_zone (project));
  print_footing (sky);
  return BATCH_DONE;
}
