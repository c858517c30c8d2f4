#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-clock.h"
#include "tpt-job-intake.h"
#include "tpt-job-survey.h"

static void
add_words (JsonBuilder *builder, const char *name, GPtrArray *words)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; i < words->len; i++)
    json_builder_add_string_value (builder, words->pdata[i]);
  json_builder_end_array (builder);
}

static void
add_flag (JsonBuilder *builder, const char *name, gboolean flag)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_boolean_value (builder, flag);
}

static void
add_steps (JsonBuilder *builder, GPtrArray *steps, TptZone *zone)
{
  json_builder_set_member_name (builder, "steps");
  json_builder_begin_array (builder);
  for (guint i = 0; i < steps->len; i++)
    {
      const TptClockStep *step = steps->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "step", step->id);
      batch_add_text (builder, "says", step->says);
      batch_add_count (builder, "frames", step->frames);
      batch_add_text (builder, "reading", step->reading);
      batch_add_instant (builder, "before", step->before, zone);
      batch_add_instant (builder, "after", step->after, zone);
      add_flag (builder, "proposed", step->proposed);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_notes (JsonBuilder *builder, const char *name, GPtrArray *notes)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; i < notes->len; i++)
    {
      const TptIntakeNote *note = notes->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "file", note->file);
      batch_add_text (builder, "reason", note->reason);
      batch_add_text (builder, "kept_as", note->kept_as);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_camera (JsonBuilder *builder, TptJobIntake *job)
{
  json_builder_set_member_name (builder, "camera");
  json_builder_begin_object (builder);
  batch_add_text (builder, "model", tpt_job_intake_get_camera_model (job));
  batch_add_text (builder, "serial", tpt_job_intake_get_camera_serial (job));
  json_builder_end_object (builder);
}

static void
print_intake_json (TptJobIntake *job, const char *deployment, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_text (builder, "batch", tpt_job_intake_get_batch (job));
  batch_add_text (builder, "deployment", deployment);
  batch_add_count (builder, "frames", tpt_job_intake_get_frames (job));
  batch_add_count (builder, "triggers", tpt_job_intake_get_triggers (job));
  batch_add_count (builder, "duplicates", tpt_job_intake_get_duplicates (job));
  add_notes (builder, "unreadable", tpt_job_intake_get_unreadable (job));
  add_notes (builder, "damaged", tpt_job_intake_get_damaged (job));
  add_notes (builder, "missing", tpt_job_intake_get_missing (job));
  batch_add_real (builder, "clock_offset_s", tpt_job_intake_get_clock_offset (job));
  batch_add_instant (builder, "first", tpt_job_intake_get_first (job), zone);
  batch_add_instant (builder, "last", tpt_job_intake_get_last (job), zone);
  batch_add_count (builder, "bytes", tpt_job_intake_get_bytes (job));
  add_camera (builder, job);
  add_steps (builder, tpt_job_intake_get_steps (job), zone);
  add_words (builder, "doubts", tpt_job_intake_get_doubts (job));
  add_words (builder, "objections", tpt_job_intake_get_objections (job));
  add_flag (builder, "safe", tpt_job_intake_get_safe (job));
  batch_add_text (builder, "why_not_safe", tpt_job_intake_get_why_not (job));
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_notes (const char *word, GPtrArray *notes)
{
  for (guint i = 0; i < notes->len; i++)
    {
      const TptIntakeNote *note = notes->pdata[i];
      g_printerr ("%s: %s: %s\n", word, note->file, note->reason);
    }
}

static void
print_words (GPtrArray *words)
{
  for (guint i = 0; i < words->len; i++)
    g_printerr ("%s\n", (const char *) words->pdata[i]);
}

static void
print_steps (GPtrArray *steps)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const TptClockStep *step = steps->pdata[i];

      printf ("%s%s: %s\n", step->id, step->proposed ? "" : _(" (not proposed)"), step->says);
    }
}

static void
print_intake (TptJobIntake *job, TptZone *zone)
{
  BatchTable *table = batch_table_new (_("batch"), _(">frames"), _(">triggers"), _(">duplicates"), _(">unreadable"),
                                       _(">clock s"), _("first"), _("last"), NULL);

  batch_table_add (table, tpt_job_intake_get_batch (job));
  batch_table_add_count (table, tpt_job_intake_get_frames (job));
  batch_table_add_count (table, tpt_job_intake_get_triggers (job));
  batch_table_add_count (table, tpt_job_intake_get_duplicates (job));
  batch_table_add_count (table, tpt_job_intake_get_unreadable (job)->len);
  batch_table_add_real (table, tpt_job_intake_get_clock_offset (job), 1);
  batch_table_add_day (table, tpt_job_intake_get_first (job), zone);
  batch_table_add_day (table, tpt_job_intake_get_last (job), zone);
  batch_table_print (table);
  print_steps (tpt_job_intake_get_steps (job));
  if (tpt_job_intake_get_safe (job))
    puts (_("Safe to reuse this card: everything on it was copied and read back."));
  else
    printf (_("Keep this card as it is: %s\n"), tpt_job_intake_get_why_not (job));
}

static void
add_matches (JsonBuilder *builder, GPtrArray *matches, TptZone *zone)
{
  json_builder_set_member_name (builder, "matches");
  json_builder_begin_array (builder);
  for (guint i = 0; i < matches->len; i++)
    {
      const TptSurveyMatch *match = matches->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "deployment", match->deployment);
      batch_add_text (builder, "station", match->station);
      batch_add_real (builder, "fits", match->fits);
      batch_add_instant (builder, "first", match->first, zone);
      batch_add_instant (builder, "last", match->last, zone);
      add_words (builder, "reasons", match->reasons);
      add_words (builder, "objections", match->objections);
      add_steps (builder, match->steps, zone);
      add_words (builder, "doubts", match->doubts);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_cameras (JsonBuilder *builder, GPtrArray *cameras)
{
  json_builder_set_member_name (builder, "cameras");
  json_builder_begin_array (builder);
  for (guint i = 0; i < cameras->len; i++)
    {
      const TptSurveyCamera *camera = cameras->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "make", camera->make);
      batch_add_text (builder, "model", camera->model);
      batch_add_text (builder, "serial", camera->serial);
      batch_add_count (builder, "frames", camera->frames);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
print_look_json (TptJobSurvey *job, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_count (builder, "frames", tpt_job_survey_get_frames (job));
  batch_add_count (builder, "clips", tpt_job_survey_get_clips (job));
  batch_add_count (builder, "bytes", tpt_job_survey_get_bytes (job));
  batch_add_count (builder, "others", tpt_job_survey_get_others (job));
  batch_add_count (builder, "on_record", tpt_job_survey_get_on_record (job));
  batch_add_text (builder, "first_reading", tpt_job_survey_get_first_reading (job));
  batch_add_text (builder, "last_reading", tpt_job_survey_get_last_reading (job));
  add_cameras (builder, tpt_job_survey_get_cameras (job));
  add_matches (builder, tpt_job_survey_get_matches (job), zone);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_match (const TptSurveyMatch *match)
{
  printf ("\n%s (%s)\n", match->deployment, match->station_title);
  for (guint i = 0; i < match->reasons->len; i++)
    printf ("  + %s\n", (const char *) match->reasons->pdata[i]);
  for (guint i = 0; i < match->objections->len; i++)
    printf ("  - %s\n", (const char *) match->objections->pdata[i]);
  for (guint i = 0; i < match->doubts->len; i++)
    printf ("  ? %s\n", (const char *) match->doubts->pdata[i]);
  print_steps (match->steps);
}

/* Matches that are worth a look on paper. */
#define SHOWN 5

static void
print_look (TptJobSurvey *job)
{
  GPtrArray *cameras = tpt_job_survey_get_cameras (job);
  const char *first = tpt_job_survey_get_first_reading (job), *last = tpt_job_survey_get_last_reading (job);

  printf (_("%d frames (%d clips), %d other files, %d on record already\n"), (int) tpt_job_survey_get_frames (job),
          (int) tpt_job_survey_get_clips (job), (int) tpt_job_survey_get_others (job), (int) tpt_job_survey_get_on_record (job));
  if (first != NULL)
    printf (_("The camera’s clock read %s to %s\n"), first, last);
  for (guint i = 0; i < cameras->len; i++)
    {
      const TptSurveyCamera *camera = cameras->pdata[i];

      printf ("%s %s %s: %u\n", camera->make != NULL ? camera->make : "-", camera->model != NULL ? camera->model : "-",
              camera->serial != NULL ? camera->serial : "-", camera->frames);
    }
  for (guint i = 0; i < MIN (tpt_job_survey_get_matches (job)->len, SHOWN); i++)
    print_match (tpt_job_survey_get_matches (job)->pdata[i]);
}

static int
look (TptProject *project, BatchOptions *options)
{
  g_autoptr (TptJobSurvey) job = tpt_job_survey_new (options->words->pdata[2]);
  GError *error = NULL;

  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_look_json (job, tpt_project_get_zone (project));
  else
    print_look (job);
  return BATCH_DONE;
}

/* Fills in the only deployment that nothing speaks against. */
static gboolean
choose_deployment (TptProject *project, BatchOptions *options, GError **error)
{
  g_autoptr (TptJobSurvey) job = tpt_job_survey_new (options->words->pdata[2]);
  g_autoptr (GString) fitting = g_string_new (NULL);
  guint n = 0;

  if (!batch_run (project, TPT_JOB (job), error))
    return FALSE;
  for (guint i = 0; i < tpt_job_survey_get_matches (job)->len; i++)
    {
      const TptSurveyMatch *match = tpt_job_survey_get_matches (job)->pdata[i];

      if (match->objections->len > 0 || match->reasons->len == 0)
        continue;
      if (n++ == 0)
        options->deployment = g_strdup (match->deployment);
      g_string_append_printf (fitting, "%s%s", fitting->len > 0 ? ", " : "", match->deployment);
    }
  if (n == 1)
    {
      g_printerr (_("The card fits deployment %s and no other.\n"), options->deployment);
      return TRUE;
    }
  g_clear_pointer (&options->deployment, g_free);
  if (n == 0)
    g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE,
                         _("No deployment fits this card without contradiction (see --look). Say with --deployment in which one it stood."));
  else
    g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                 _("The card fits more than one deployment: %s. Say with --deployment in which one it stood."), fitting->str);
  return FALSE;
}

static TptJobIntake *
make_job (BatchOptions *options)
{
  TptJobIntake *job = tpt_job_intake_new (options->deployment, options->words->pdata[2]);

  if (options->pictures != NULL)
    tpt_job_intake_set_pictures (job, options->pictures);
  tpt_job_intake_set_clock (job, options->clock_read, options->clock_true);
  tpt_job_intake_set_repair (job, options->repair_clock);
  tpt_job_intake_set_verify_only (job, options->verify_only);
  return job;
}

static int
take_in (TptProject *project, BatchOptions *options)
{
  g_autoptr (TptJobIntake) job = make_job (options);
  GError *error = NULL;

  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_intake_json (job, options->deployment, tpt_project_get_zone (project));
  else
    print_intake (job, tpt_project_get_zone (project));
  print_notes (_("set aside"), tpt_job_intake_get_unreadable (job));
  print_notes (_("damaged"), tpt_job_intake_get_damaged (job));
  print_notes (_("missing"), tpt_job_intake_get_missing (job));
  print_words (tpt_job_intake_get_objections (job));
  print_words (tpt_job_intake_get_doubts (job));
  return tpt_job_intake_get_unreadable (job)->len > 0 || tpt_job_intake_get_missing (job)->len > 0 ? BATCH_IN_PART : BATCH_DONE;
}

int
batch_intake (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  GError *error = NULL;

  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  if (options->look)
    return look (project, options);
  if (options->deployment == NULL && !choose_deployment (project, options, &error))
    return batch_fail (error);
  return take_in (project, options);
}

static void
print_clock_json (TptJobClock *job, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();
  const char *const *done = tpt_job_clock_get_done (job);

  json_builder_begin_object (builder);
  batch_add_count (builder, "frames", tpt_job_clock_get_frames (job));
  batch_add_count (builder, "changed", tpt_job_clock_get_changed (job));
  json_builder_set_member_name (builder, "done");
  json_builder_begin_array (builder);
  for (guint i = 0; done[i] != NULL; i++)
    if (*done[i] != '\0')
      json_builder_add_string_value (builder, done[i]);
  json_builder_end_array (builder);
  batch_add_instant (builder, "first", tpt_job_clock_get_first (job), zone);
  batch_add_instant (builder, "last", tpt_job_clock_get_last (job), zone);
  add_steps (builder, tpt_job_clock_get_steps (job), zone);
  add_words (builder, "doubts", tpt_job_clock_get_doubts (job));
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_clock (TptJobClock *job, TptZone *zone)
{
  g_autofree char *done = g_strjoinv (" ", (char **) tpt_job_clock_get_done (job));
  BatchTable *table = batch_table_new (_(">frames"), _(">changed"), _("done"), _("first"), _("last"), NULL);

  batch_table_add_count (table, tpt_job_clock_get_frames (job));
  batch_table_add_count (table, tpt_job_clock_get_changed (job));
  batch_table_add (table, *done != '\0' ? done : NULL);
  batch_table_add_day (table, tpt_job_clock_get_first (job), zone);
  batch_table_add_day (table, tpt_job_clock_get_last (job), zone);
  batch_table_print (table);
  print_steps (tpt_job_clock_get_steps (job));
}

static TptJobClock *
make_clock_job (BatchOptions *options)
{
  const char *batch = options->words->pdata[2];
  const char *none[] = { NULL };

  if (options->bare)
    return tpt_job_clock_new (batch, none);
  if (options->repair_clock)
    return tpt_job_clock_new_repair (batch);
  return options->apply != NULL ? tpt_job_clock_new (batch, (const char *const *) options->apply) : tpt_job_clock_new_look (batch);
}

int
batch_clock (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobClock) job = NULL;
  GError *error = NULL;

  if (options->bare + options->repair_clock + (options->apply != NULL) > 1)
    {
      g_printerr ("%s\n", _("--apply, --repair-clock and --bare exclude each other."));
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  job = make_clock_job (options);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_clock_json (job, tpt_project_get_zone (project));
  else
    print_clock (job, tpt_project_get_zone (project));
  print_words (tpt_job_clock_get_doubts (job));
  return BATCH_DONE;
}
