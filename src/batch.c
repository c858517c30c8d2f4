#include "config.h"

#include "batch.h"

#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "batch-private.h"

static int batch_help (BatchOptions *options);

/* Groups of options: j --json; n new; i import; c intake; q clock; k check; d due;
 * m frames; w name; t stations; p period and stations; s species and hours; r rates; b blanks;
 * f figure; h clock of the day; a curve; l another period; v sheet; o score; y sun; x export. */
static const BatchCommand commands[] = {
  { "new", "n", 1, 1, batch_new, N_("new FILE --name NAME --zone ZONE"),
    N_("Makes an empty project. FILE must not exist; it is never overwritten.\n"
       "  --name NAME   the project’s name\n"
       "  --zone ZONE   IANA time zone, such as Asia/Kuching\n") },
  { "demo", "", 1, 1, batch_demo, N_("demo FOLDER"),
    N_("Writes the demo into FOLDER, which must be empty or not exist: a project\n"
       "(kelabau.gpkg) with two years of history, its pictures, and two card folders\n"
       "not yet taken in (cards/). The same bytes every time.\n") },
  { "import", "ji", 2, -1, batch_import, N_("import FILE SOURCE... [--dry-run] [--lenient] [--json]"),
    N_("Reads CSV tables, filled-in field sheets, GPX and GeoJSON files into the\n"
       "project. A table is known by its header; waypoints become stations, tracks and\n"
       "routes become tracks. Each source is taken wholly or, when any row is refused,\n"
       "not at all. The same source again changes nothing.\n"
       "  --dry-run     look only\n"
       "  --lenient     pass over columns the table does not have\n"
       "Tables (first column: the code): stations, units, deployments, fittings, visits,\n"
       "readings, species, frames, observations, unit_log, stock.\n"
       "A field sheet has station, at and unit, one row for each unit, and any of people,\n"
       "found, camera_clock, true_clock, frames_on_card, left, visit_notes (of the visit,\n"
       "once is enough), state, volts, percent, action, replacement, cause, notes (of the\n"
       "unit). What is blank was not seen. A swapped unit’s replacement takes its place in\n"
       "the rig; its own code says that the same one went back in, and nothing that fresh\n"
       "cells came off the shelf.\n") },
  { "export", "jx", 2, 2, batch_export, N_("export FILE csv -o FOLDER [--exact] [--json]"),
    N_("Writes the tables that import reads, one file each, into FOLDER, which must be\n"
       "empty or not exist. Pictures of people are left out, and what was said of them.\n"
       "  -o FOLDER     where to\n"
       "  --exact       places, names of stations, ways in, notes and serial numbers as they\n"
       "                are on record; otherwise places are shown on a coarse grid, as the\n"
       "                station and the species seen there ask for, and the rest is empty\n") },
  { "intake", "jc", 2, 2, batch_intake,
    N_("intake FILE CARD [--deployment CODE] [--look] [--pictures DIR] [--repair-clock] [--clock-read T --clock-true T]"
       " [--verify-only] [--json]"),
    N_("Takes in the pictures of a card: copies them below the project’s folder, reads\n"
       "every copy back, puts the clock right, groups triggers, records the batch. The\n"
       "card is only read. Stopped at any moment, the same command goes on from there.\n"
       "Clocks are put right by what visits noted of them: a constant part and drift.\n"
       "  --deployment CODE  the deployment the card stood in; may be left out when exactly\n"
       "                     one fits the card’s camera, dates and frames\n"
       "  --look             only tell what is on the card, which deployments it may have\n"
       "                     stood in, and what could be done about its clock\n"
       "  --repair-clock     also repair a clock that lost its time or stood an hour off, as\n"
       "                     far as the evidence is good enough\n"
       "  --pictures DIR     folder below the project’s own (default: pictures)\n"
       "  --clock-read T     what the camera’s clock showed, as it stood; used instead of\n"
       "                     what visits noted\n"
       "  --clock-true T     the true time at that moment\n"
       "  --verify-only      compare card and pictures; write nothing\n") },
  { "clock", "jq", 2, 2, batch_clock, N_("clock FILE BATCH [--apply STEP]... [--repair-clock] [--bare] [--json]"),
    N_("Tells what could be done about the clock of a batch on record; or does it. Times\n"
       "are reckoned anew from what the camera showed, which always stays on record.\n"
       "  --apply STEP    do this step (offset, drift, hour, reset) and no others; repeat\n"
       "                  for more\n"
       "  --repair-clock  do every step for which the evidence is good enough\n"
       "  --bare          take everything back to what the camera showed\n") },
  { "check", "jk", 1, 1, batch_check, N_("check FILE [--pictures] [--json]"),
    N_("Looks the project over: SQLite, references, GeoPackage rules, journal.\n"
       "  --pictures    also read every picture and compare its SHA-256\n") },
  { "batches", "j", 1, 1, batch_batches, N_("batches FILE [--json]"),
    N_("Card batches, the newest first, and how far the naming of each is.\n") },
  { "frames", "jpm", 1, 1, batch_frames,
    N_("frames FILE [--batch CODE] [--undecided] [--disagreeing] [--type T]... [filters] [--json]"),
    N_("Frames, what their triggers show, and who said so.\n"
       "  --batch CODE         of one card batch\n"
       "  --undecided          of triggers nobody has said anything of\n"
       "  --disagreeing        of triggers on which people differ\n"
       "  --marked             of triggers with a frame that is good for guests\n"
       "  --type T             animal, human, vehicle, blank or unknown (repeat for more)\n"
       "  --certainty-below X  of which somebody was less certain than X, from 0 to 1\n"
       "  --blank-first        probably empty triggers first, otherwise by time\n"
       "  --blank-last         probably empty triggers last\n"
       "  --limit N            no more than the first N\n") },
  { "name", "jw", 2, -1, batch_name,
    N_("name FILE FRAME... --type T [--species S] [--count N] [--by WHO] [--besides] [--json]"),
    N_("Says what the triggers of these frames show. It counts, unless somebody else’s\n"
       "word counts already: then it is kept beside it.\n"
       "  --type T          animal, human, vehicle, blank or unknown\n"
       "  --species S       of an animal: scientific or common name\n"
       "  --count N, --sex female|male, --life-stage adult|subadult|juvenile,\n"
       "  --behaviour TEXT, --individual TEXT, --notes TEXT\n"
       "  --certainty X     from 0 to 1\n"
       "  --by WHO          who says so\n"
       "  --besides         beside what the same person has said, for several species\n"
       "  --take-back       instead of --type: takes back what this person said\n") },
  { "due", "jdt", 1, 1, batch_due, N_("due FILE [--on T] [--until T] [--station CODE]... [--json]"),
    N_("Which stations run out of energy or card, and when; most expected lost nights\n"
       "first, then those that cannot be told and why. Below, what to bring, beside what\n"
       "lies on the shelf.\n"
       "  --on T          the moment of asking (default: now); what came later is unknown\n"
       "  --until T       the next round (default: the planned one, else 28 days on)\n"
       "  --station CODE  only this station; repeat for more\n") },
  { "effort", "jp", 1, 1, batch_effort, N_("effort FILE [--station CODE]... [--from T] [--to T] [--json]"),
    N_("Trap nights of every deployment, and the gaps that do not count.\n") },
  { "rates", "jpsrb", 1, 1, batch_rates,
    N_("rates FILE [--independence MIN] [--gap-from last|first] [--by month|station] [--blanks] [filters] [--json]"),
    N_("Detections of each species and their rate per 100 trap nights, with the exact\n"
       "95 % Poisson interval.\n"
       "  --independence MIN     minutes between independent records\n"
       "  --gap-from last|first  measured from the last frame, or the start of the last\n"
       "                         detection\n"
       "  --by month|station     the same for each; below the months, whether the rate changes\n"
       "                         over the years\n"
       "  --blanks               instead, the share of triggers that fired at nothing, by the\n"
       "                         kind of sensor and by station, with 95 % Wilson limits;\n"
       "                         takes --station, --from, --to and --hours\n") },
  { "occupancy", "jpzg", 1, 1, batch_occupancy, N_("occupancy FILE --species S [--occasion-days N] [filters] [--json]"),
    N_("At what share of the stations a species is, allowing for stations that missed it:\n"
       "single-season occupancy with constant psi (share of stations) and p (chance to be\n"
       "seen in an occasion where it is), with standard errors and profile limits of 95 %.\n"
       "  --species S        one species\n"
       "  --occasion-days N  days of an occasion (14)\n"
       "Occasions start at --from, or at the midnight before the first effort, and go by\n"
       "the calendar. The last is the one of which at least half lies before the end of\n"
       "the effort. One in which a station worked less than half the time is missing\n"
       "there, and what was seen in it does not count. Each record counts in the occasion\n"
       "in which it starts. Where psi comes out at 1 there are no standard errors.\n") },
  { "activity", "jpsha", 1, 1, batch_activity,
    N_("activity FILE --species S [--clock local|sun] [--points N] [--boot N] [--seed N] [filters] [--json]"),
    N_("When in the day a species is about: a curve with its band, the mean hour, how\n"
       "strongly hours are preferred, and the shares by day, twilight and night (of the\n"
       "sun’s height; civil twilight). --hours chooses records like any filter: leave it\n"
       "out to see the whole day.\n"
       "  --species S        one species, or more taken together\n"
       "  --clock local|sun  of the project’s clock (default), or of the sun’s day, which\n"
       "                     has sunrise at 6 and sunset at 18 all year\n"
       "  --points N         points of the curve, from 8 to 4096 (288)\n"
       "  --boot N           resamples behind the band (1000); 0 for a band by the standard\n"
       "                     error, as it is taken of more than 1000 records\n"
       "  --seed N           names the resamples (1): the same give the same numbers\n"
       "The curve is a von Mises kernel density per hour that integrates to 1, its\n"
       "bandwidth by Taylor’s rule from the largest of three moments, and takes at least\n"
       "15 records that are not all within an hour. Resamples are drawn from the curve\n"
       "and their bandwidth found anew. Rayleigh’s p is in Zar’s form.\n") },
  { "overlap", "jpshal", 1, 1, batch_overlap,
    N_("overlap FILE --species A --species B [--clock local|sun] [--boot N] [--seed N] [filters] [--json]"),
    N_("How much two curves of the day have in common, from 0 to 1, with an interval of\n"
       "95 %, and Watson’s test of whether the hours differ at all.\n"
       "  --species A --species B        two species\n"
       "  --against-from T, --against-to T  instead of B: the same species in another\n"
       "                                 period, beside that of --from and --to\n"
       "  --clock, --points, --boot, --seed  as for the command activity\n"
       "The estimator is Δ1 when the smaller number of records is below 50, else Δ4, with\n"
       "no further smoothing. What chance does to few records makes an overlap smaller:\n"
       "two halves of one set have some 0.8 with 20 records each. Ties are allowed for\n"
       "in Watson’s U²; its p is that of many records and takes at least ten in each.\n") },
  { "richness", "jpz", 1, 1, batch_richness, N_("richness FILE [filters] [--json]"),
    N_("How many species were seen at how many stations, and how many there may be: the mean\n"
       "and standard deviation over all ways to choose so many stations, both exact, and\n"
       "Chao2, jackknife and bootstrap. Stations that worked are the units, also those that\n"
       "saw nothing. The standard error of the jackknife is that of leaving out one station\n"
       "at a time. Every name in the list of species counts as a species.\n") },
  { "lives", "jr", 1, 1, batch_lives, N_("lives FILE [--by kind|housing|cause|model] [--json]"),
    N_("How long units last: of each group the share still at work by age, the median,\n"
       "and whether the groups differ (log-rank test). A life begins when a unit was\n"
       "acquired, else first fitted, and ends with its first failure or loss in the log,\n"
       "or when it was retired for a cause of failure. Limits are of 95 %.\n"
       "  --by WHAT     kind (default), housing, model, or cause: one curve for each cause,\n"
       "                other causes counted as still at work until then\n") },
  { "sun", "jy", 2, 2, batch_sun, N_("sun FILE DATE [--station CODE]... [--exact] [--json]"),
    N_("Sun and moon on a date, in the project’s zone, at the middle of the stations.\n"
       "  --station CODE  of this one (repeat for the middle of several)\n"
       "  --exact         for the place as it is; otherwise it is rounded to a coarse\n"
       "                  grid, because such times give a place away\n"
       "Sunrise and sunset on an open horizon; civil and nautical twilight end with the\n"
       "sun 6 and 12 degrees below it. How much of the moon is lit is told for the middle\n"
       "of the date.\n") },
  { "figure", "jdpsfrh", 2, 2, batch_figure,
    N_("figure FILE strip|map|hours|months|matrix|accumulation|due|lives -o OUT.png|svg|pdf [--size WxH] [--language L] [--clock local|sun] [--exact] [filters] [--json]"),
    N_("Writes a figure, and OUT.csv with the numbers it shows.\n"
       "  strip          stations through time, with the effort\n"
       "  map            where species turned up\n"
       "  hours          when in the day, as a curve with its band\n"
       "  months         rates by month with the effort, and whether they change\n"
       "  matrix         which station saw which species\n"
       "  accumulation   how many species so many stations see\n"
       "  due, lives     what runs out next, and how long units last\n"
       "  -o OUT         where to\n"
       "  --size WxH     in pixels, or WxHmm, or column, page, slide, phone\n"
       "  --language L   language of species’ names, such as es\n"
       "  --exact        exact places; otherwise they are shown on a coarse grid, stations by\n"
       "                 number, and species of extreme sensitivity not at all in a map of\n"
       "                 everything or a matrix\n"
       "  --clock C      of hours: local (default), or sun, which rises at 6 and sets at 18\n"
       "  --on, --until  of what is due: as for the command due; --station chooses\n"
       "  --by WHAT      of lives: kind (default), housing, cause or model; no filters\n") },
  { "sheet", "jdv", 2, 2, batch_sheet,
    N_("sheet FILE visit -o OUT.pdf [--station CODE]... [--on T] [--until T] [--size a4|letter] [--exact] [--json]"),
    N_("Writes visit sheets, a page for each station that is due before the next round,\n"
       "and OUT.csv beside it: the same to fill in on a telephone or laptop and import.\n"
       "  -o OUT.pdf       where to; an OUT.csv with anything filled in is never replaced\n"
       "  --station CODE   these stations instead, due or not (repeat for more)\n"
       "  --on T           the moment of asking (default: now)\n"
       "  --until T        the next round (default: the planned one, else 28 days on)\n"
       "  --size PAPER     a4 (default) or letter\n"
       "  --exact          with coordinates, and marked as such; otherwise the sheet tells\n"
       "                   the way in as it is noted, and no position\n") },
  { "score", "jo", 1, 1, batch_score, N_("score FILE [--batch CODE] [--again] [--json]"),
    N_("Works out, from the pictures, how likely each trigger is to be empty: a score from 0\n"
       "(something) to 1 (nothing), by which frames can be ordered; no probability. Nothing is\n"
       "deleted or hidden. Stopped at any moment, the same command goes on from there.\n"
       "  --batch CODE  only of this card batch\n"
       "  --again       also those that have a score\n") },
  { "help", "", 0, 1, batch_help, N_("help [COMMAND]"), N_("Explains a command.\n") },
};

static const char filters_help[] =
  N_("Filters: --station CODE (repeat for more), --species NAME (likewise), --from T,\n"
     "--to T (half-open), --hours HH:MM-HH:MM. A time without an offset is in the\n"
     "project’s zone.\n");

static const BatchCommand *
find_command (const char *word)
{
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    if (g_str_equal (commands[i].word, word))
      return &commands[i];
  return NULL;
}

static void
print_command (const BatchCommand *command)
{
  g_print (_("Usage: tapetum %s\n\n%s"), _(command->usage), _(command->help));
  if (strpbrk (command->options, "smz") != NULL)
    g_print ("%s", _(filters_help));
  if (strchr (command->options, 'j') != NULL)
    g_print ("%s", _("  --json        one JSON document instead of a table\n"));
}

static void
print_commands (void)
{
  g_print ("%s", _("Usage: tapetum [FILE]            open the window\n"
                   "       tapetum COMMAND FILE ...  work without one\n\nCommands:\n"));
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    g_print ("  %s\n", _(commands[i].usage));
  g_print ("%s", _("\n“tapetum help COMMAND” says more. Exit status: 0 done; 1 done in part or refused\n"
                   "because of the data; 2 the command line is wrong; 3 the project file cannot be\nused.\n"));
}

static int
batch_help (BatchOptions *options)
{
  const BatchCommand *command;

  if (options->words->len < 2)
    {
      print_commands ();
      return BATCH_DONE;
    }
  command = find_command (options->words->pdata[1]);
  if (command == NULL)
    {
      g_printerr (_("There is no command “%s”; see “tapetum help”.\n"), (const char *) options->words->pdata[1]);
      return BATCH_USAGE;
    }
  print_command (command);
  return BATCH_DONE;
}

int
batch_fail (GError *error)
{
  int status = tpt_error_exit_status (error);

  g_printerr ("%s\n", error->message);
  g_error_free (error);
  return status;
}

TptProject *
batch_open (BatchOptions *options, GError **error)
{
  return tpt_project_open (options->words->pdata[1], error);
}

static void
show_progress_cb (TptJob *job, double progress, const char *text, gpointer data)
{
  int filled = (int) lround (progress * 30);

  fprintf (stderr, "\r[%.*s%*s] %3.0f %%  %.40s\033[K%s", filled, "##############################", 30 - filled, "",
           progress * 100, text != NULL ? text : "", progress >= 1 ? "\n" : "");
  fflush (stderr);
}

gboolean
batch_run (TptProject *project, TptJob *job, GError **error)
{
  tpt_job_set_progress_func (job, isatty (STDERR_FILENO) ? show_progress_cb : NULL, NULL);
  return tpt_project_run (project, job, NULL, error);
}

gboolean
batch_moment (const char *text, TptZone *zone, TptInstant *instant, GError **error)
{
  *instant = TPT_NO_INSTANT;
  if (text == NULL)
    return TRUE;
  *instant = tpt_instant_parse (text, zone, error);
  if (*instant != TPT_NO_INSTANT)
    return TRUE;
  if (error != NULL && *error != NULL)
    (*error)->code = TPT_ERROR_USAGE; /* the command line, not the data */
  return FALSE;
}

gboolean
batch_period (const char *from, const char *to, TptZone *zone, TptRange *range, GError **error)
{
  if (!batch_moment (from, zone, &range->from, error) || !batch_moment (to, zone, &range->to, error))
    return FALSE;
  if (range->from == TPT_NO_INSTANT || range->to == TPT_NO_INSTANT || range->from <= range->to)
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("A period does not end (%1$s) before it begins (%2$s)."), to, from);
  return FALSE;
}

/* A round that is over cannot be the next. */
gboolean
batch_moments (BatchOptions *options, TptProject *project, TptInstant *on, TptInstant *until, GError **error)
{
  TptZone *zone = tpt_project_get_zone (project);

  if (!batch_moment (options->on, zone, on, error) || !batch_moment (options->until, zone, until, error))
    return FALSE;
  if (*until == TPT_NO_INSTANT || *until > (*on != TPT_NO_INSTANT ? *on : tpt_project_get_now (project, NULL)))
    return TRUE;
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, _("--until must lie after the moment of asking."));
  return FALSE;
}

static gboolean
read_hours (const char *text, TptFilter *filter, GError **error)
{
  int h1, m1, h2, m2;
  char end;

  if (text == NULL)
    return TRUE;
  if (sscanf (text, "%2d:%2d-%2d:%2d%c", &h1, &m1, &h2, &m2, &end) != 4 || h1 < 0 || h1 > 23 || h2 < 0 || h2 > 24 || m1 < 0 ||
      m1 > 59 || m2 < 0 || m2 > (h2 == 24 ? 0 : 59))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is not a span of hours such as 18:00-06:00"), text);
      return FALSE;
    }
  filter->hour_from = h1 * 60 + m1;
  filter->hour_to = h2 * 60 + m2;
  return TRUE;
}

static gboolean
read_independence (BatchOptions *options, TptFilter *filter, GError **error)
{
  char *end = NULL;

  if (options->independence != NULL)
    {
      filter->independence_min = g_ascii_strtod (options->independence, &end);
      if (*end != '\0' || end == options->independence || !(filter->independence_min >= 0) ||
          filter->independence_min > 1e6)
        {
          g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("“%s” is not a number of minutes"), options->independence);
          return FALSE;
        }
    }
  if (options->gap_from == NULL)
    return TRUE;
  filter->gap_from_first = g_str_equal (options->gap_from, "first");
  if (filter->gap_from_first || g_str_equal (options->gap_from, "last"))
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("--gap-from is “last” or “first”, not “%s”"), options->gap_from);
  return FALSE;
}

TptFilter *
batch_filter (BatchOptions *options, TptZone *zone, GError **error)
{
  g_autoptr (TptFilter) filter = tpt_filter_new ();

  filter->stations = g_strdupv (options->stations);
  filter->species = g_strdupv (options->species);
  if (!batch_period (options->from, options->to, zone, &filter->range, error) ||
      !read_hours (options->hours, filter, error) || !read_independence (options, filter, error))
    return NULL;
  return g_steal_pointer (&filter);
}

gboolean
batch_by_sun (BatchOptions *options, gboolean *by_sun, GError **error)
{
  *by_sun = g_strcmp0 (options->clock, "sun") == 0;
  if (options->clock == NULL || *by_sun || g_str_equal (options->clock, "local"))
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("--clock is “local” or “sun”, not “%s”"), options->clock);
  return FALSE;
}

static void
add_group (GOptionContext *context, const BatchCommand *command, char letter, const GOptionEntry *entries)
{
  if (strchr (command->options, letter) != NULL)
    g_option_context_add_main_entries (context, entries, NULL);
}

static gboolean
parse_options (const BatchCommand *command, BatchOptions *o, char ***argv, gboolean *help, GError **error)
{
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  const GOptionEntry common[] = { { "help", 'h', 0, G_OPTION_ARG_NONE, help, NULL, NULL }, { 0 } };
  const GOptionEntry json[] = { { "json", 0, 0, G_OPTION_ARG_NONE, &o->json, NULL, NULL }, { 0 } };
  const GOptionEntry new[] = { { "name", 0, 0, G_OPTION_ARG_STRING, &o->name, NULL, NULL },
                               { "zone", 0, 0, G_OPTION_ARG_STRING, &o->zone, NULL, NULL }, { 0 } };
  const GOptionEntry import[] = { { "dry-run", 0, 0, G_OPTION_ARG_NONE, &o->dry_run, NULL, NULL },
                                  { "lenient", 0, 0, G_OPTION_ARG_NONE, &o->lenient, NULL, NULL }, { 0 } };
  const GOptionEntry intake[] = { { "deployment", 0, 0, G_OPTION_ARG_STRING, &o->deployment, NULL, NULL },
                                  { "pictures", 0, 0, G_OPTION_ARG_FILENAME, &o->pictures, NULL, NULL },
                                  { "clock-read", 0, 0, G_OPTION_ARG_STRING, &o->clock_read, NULL, NULL },
                                  { "clock-true", 0, 0, G_OPTION_ARG_STRING, &o->clock_true, NULL, NULL },
                                  { "verify-only", 0, 0, G_OPTION_ARG_NONE, &o->verify_only, NULL, NULL },
                                  { "look", 0, 0, G_OPTION_ARG_NONE, &o->look, NULL, NULL },
                                  { "repair-clock", 0, 0, G_OPTION_ARG_NONE, &o->repair_clock, NULL, NULL }, { 0 } };
  const GOptionEntry clock[] = { { "apply", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->apply, NULL, NULL },
                                 { "repair-clock", 0, 0, G_OPTION_ARG_NONE, &o->repair_clock, NULL, NULL },
                                 { "bare", 0, 0, G_OPTION_ARG_NONE, &o->bare, NULL, NULL }, { 0 } };
  const GOptionEntry check[] = { { "pictures", 0, 0, G_OPTION_ARG_NONE, &o->pictures_check, NULL, NULL }, { 0 } };
  const GOptionEntry due[] = { { "on", 0, 0, G_OPTION_ARG_STRING, &o->on, NULL, NULL },
                               { "until", 0, 0, G_OPTION_ARG_STRING, &o->until, NULL, NULL }, { 0 } };
  const GOptionEntry stations[] = { { "station", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->stations, NULL, NULL }, { 0 } };
  const GOptionEntry period[] = { { "station", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->stations, NULL, NULL },
                                  { "from", 0, 0, G_OPTION_ARG_STRING, &o->from, NULL, NULL },
                                  { "to", 0, 0, G_OPTION_ARG_STRING, &o->to, NULL, NULL }, { 0 } };
  const GOptionEntry species[] = { { "species", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->species, NULL, NULL },
                                   { "hours", 0, 0, G_OPTION_ARG_STRING, &o->hours, NULL, NULL },
                                   { "independence", 0, 0, G_OPTION_ARG_STRING, &o->independence, NULL, NULL },
                                   { "gap-from", 0, 0, G_OPTION_ARG_STRING, &o->gap_from, NULL, NULL }, { 0 } };
  const GOptionEntry community[] = { { "species", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->species, NULL, NULL },
                                     { "hours", 0, 0, G_OPTION_ARG_STRING, &o->hours, NULL, NULL }, { 0 } };
  const GOptionEntry occasions[] = { { "occasion-days", 0, 0, G_OPTION_ARG_STRING, &o->occasion_days, NULL, NULL }, { 0 } };
  const GOptionEntry rates[] = { { "by", 0, 0, G_OPTION_ARG_STRING, &o->by, NULL, NULL }, { 0 } };
  const GOptionEntry sky[] = { { "station", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->stations, NULL, NULL },
                               { "exact", 0, 0, G_OPTION_ARG_NONE, &o->exact, NULL, NULL }, { 0 } };
  const GOptionEntry blanks[] = { { "blanks", 0, 0, G_OPTION_ARG_NONE, &o->blanks, NULL, NULL }, { 0 } };
  const GOptionEntry figure[] = { { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output, NULL, NULL },
                                  { "size", 0, 0, G_OPTION_ARG_STRING, &o->size, NULL, NULL },
                                  { "language", 0, 0, G_OPTION_ARG_STRING, &o->language, NULL, NULL },
                                  { "exact", 0, 0, G_OPTION_ARG_NONE, &o->exact, NULL, NULL }, { 0 } };
  const GOptionEntry curve[] = { { "points", 0, 0, G_OPTION_ARG_STRING, &o->points, NULL, NULL },
                                 { "boot", 0, 0, G_OPTION_ARG_STRING, &o->boot, NULL, NULL },
                                 { "seed", 0, 0, G_OPTION_ARG_STRING, &o->seed, NULL, NULL }, { 0 } };
  const GOptionEntry against[] = { { "against-from", 0, 0, G_OPTION_ARG_STRING, &o->against_from, NULL, NULL },
                                   { "against-to", 0, 0, G_OPTION_ARG_STRING, &o->against_to, NULL, NULL }, { 0 } };
  const GOptionEntry day[] = { { "clock", 0, 0, G_OPTION_ARG_STRING, &o->clock, NULL, NULL }, { 0 } };
  const GOptionEntry sheet[] = { { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output, NULL, NULL },
                                 { "size", 0, 0, G_OPTION_ARG_STRING, &o->size, NULL, NULL },
                                 { "station", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->stations, NULL, NULL },
                                 { "exact", 0, 0, G_OPTION_ARG_NONE, &o->exact, NULL, NULL }, { 0 } };
  const GOptionEntry export[] = { { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output, NULL, NULL },
                                  { "exact", 0, 0, G_OPTION_ARG_NONE, &o->exact, NULL, NULL }, { 0 } };

  const GOptionEntry frames[] = { { "batch", 0, 0, G_OPTION_ARG_STRING, &o->batch, NULL, NULL },
                                  { "species", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->species, NULL, NULL },
                                  { "hours", 0, 0, G_OPTION_ARG_STRING, &o->hours, NULL, NULL },
                                  { "type", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->types, NULL, NULL },
                                  { "undecided", 0, 0, G_OPTION_ARG_NONE, &o->undecided, NULL, NULL },
                                  { "disagreeing", 0, 0, G_OPTION_ARG_NONE, &o->disagreeing, NULL, NULL },
                                  { "marked", 0, 0, G_OPTION_ARG_NONE, &o->marked, NULL, NULL },
                                  { "certainty-below", 0, 0, G_OPTION_ARG_STRING, &o->certainty_below, NULL, NULL },
                                  { "blank-first", 0, 0, G_OPTION_ARG_NONE, &o->blank_first, NULL, NULL },
                                  { "blank-last", 0, 0, G_OPTION_ARG_NONE, &o->blank_last, NULL, NULL },
                                  { "limit", 0, 0, G_OPTION_ARG_STRING, &o->limit, NULL, NULL }, { 0 } };
  const GOptionEntry naming[] = { { "type", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->types, NULL, NULL },
                                  { "species", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->species, NULL, NULL },
                                  { "count", 0, 0, G_OPTION_ARG_STRING, &o->count, NULL, NULL },
                                  { "sex", 0, 0, G_OPTION_ARG_STRING, &o->sex, NULL, NULL },
                                  { "life-stage", 0, 0, G_OPTION_ARG_STRING, &o->life_stage, NULL, NULL },
                                  { "behaviour", 0, 0, G_OPTION_ARG_STRING, &o->behaviour, NULL, NULL },
                                  { "individual", 0, 0, G_OPTION_ARG_STRING, &o->individual, NULL, NULL },
                                  { "notes", 0, 0, G_OPTION_ARG_STRING, &o->notes, NULL, NULL },
                                  { "certainty", 0, 0, G_OPTION_ARG_STRING, &o->certainty, NULL, NULL },
                                  { "by", 0, 0, G_OPTION_ARG_STRING, &o->by, NULL, NULL },
                                  { "besides", 0, 0, G_OPTION_ARG_NONE, &o->besides, NULL, NULL },
                                  { "take-back", 0, 0, G_OPTION_ARG_NONE, &o->take_back, NULL, NULL }, { 0 } };
  const GOptionEntry score[] = { { "batch", 0, 0, G_OPTION_ARG_STRING, &o->batch, NULL, NULL },
                                 { "again", 0, 0, G_OPTION_ARG_NONE, &o->again, NULL, NULL }, { 0 } };

  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_add_main_entries (context, common, NULL);
  add_group (context, command, 'j', json);
  add_group (context, command, 'n', new);
  add_group (context, command, 'i', import);
  add_group (context, command, 'c', intake);
  add_group (context, command, 'q', clock);
  add_group (context, command, 'k', check);
  add_group (context, command, 'd', due);
  add_group (context, command, 't', stations);
  add_group (context, command, 'p', period);
  add_group (context, command, 's', species);
  add_group (context, command, 'z', community);
  add_group (context, command, 'g', occasions);
  add_group (context, command, 'r', rates);
  add_group (context, command, 'y', sky);
  add_group (context, command, 'b', blanks);
  add_group (context, command, 'f', figure);
  add_group (context, command, 'h', day);
  add_group (context, command, 'a', curve);
  add_group (context, command, 'l', against);
  add_group (context, command, 'v', sheet);
  add_group (context, command, 'x', export);
  add_group (context, command, 'm', frames);
  add_group (context, command, 'w', naming);
  add_group (context, command, 'o', score);
  return g_option_context_parse_strv (context, argv, error);
}

static void
clear_options (BatchOptions *o)
{
  char *texts[] = { o->name, o->zone, o->deployment, o->pictures, o->clock_read, o->clock_true, o->on, o->until,
                    o->from, o->to, o->hours, o->by, o->gap_from, o->independence, o->occasion_days, o->output, o->size, o->language, o->clock,
                    o->batch, o->certainty_below, o->limit, o->count, o->sex, o->life_stage, o->behaviour, o->individual,
                    o->notes, o->certainty, o->points, o->boot, o->seed, o->against_from, o->against_to };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (texts[i]);
  g_strfreev (o->apply);
  g_strfreev (o->stations);
  g_strfreev (o->species);
  g_strfreev (o->types);
  g_ptr_array_unref (o->words);
}

static gboolean
check_words (const BatchCommand *command, BatchOptions *options)
{
  int n = (int) options->words->len - 1;

  return n >= command->min_words && (command->max_words < 0 || n <= command->max_words);
}

static int
run_command (const BatchCommand *command, int argc, char *argv[])
{
  BatchOptions options = { .words = g_ptr_array_new_with_free_func (g_free) };
  g_auto (GStrv) words = g_new0 (char *, (gsize) argc + 1);
  g_autoptr (GError) error = NULL;
  gboolean help = FALSE;
  int status;

  for (int i = 0; i < argc; i++)
    words[i] = g_strdup (argv[i]);
  if (!parse_options (command, &options, &words, &help, &error))
    {
      g_printerr (_("%s; see “tapetum help %s”.\n"), error->message, command->word);
      status = BATCH_USAGE;
    }
  else
    {
      for (int i = 1; words[i] != NULL; i++)
        if (!g_str_equal (words[i], "--"))
          g_ptr_array_add (options.words, g_strdup (words[i]));
      if (help)
        {
          print_command (command);
          status = BATCH_DONE;
        }
      else if (!check_words (command, &options))
        {
          g_printerr (_("Usage: tapetum %s\n"), _(command->usage));
          status = BATCH_USAGE;
        }
      else
        status = command->run (&options);
    }
  clear_options (&options);
  return status;
}

int
tpt_batch_main (int argc, char *argv[], gboolean *handled)
{
  const BatchCommand *command = argc > 1 ? find_command (argv[1]) : NULL;

  *handled = TRUE;
  if (command != NULL)
    return run_command (command, argc, argv);
  if (argc > 1 && (g_str_equal (argv[1], "--help") || g_str_equal (argv[1], "-h")))
    {
      print_commands ();
      return BATCH_DONE;
    }
  if (argc > 1 && g_str_equal (argv[1], "--version"))
    {
      g_print ("Tapetum %s\n", PACKAGE_VERSION);
      return BATCH_DONE;
    }
  /* A word that is neither a command nor a file would only open an error. */
  if (argc > 2 || (argc == 2 && !g_file_test (argv[1], G_FILE_TEST_EXISTS) && strchr (argv[1], '.') == NULL))
    {
      g_printerr (_("There is no command “%s”; see “tapetum help”.\n"), argv[1]);
      return BATCH_USAGE;
    }
  *handled = FALSE;
  return BATCH_DONE;
}
