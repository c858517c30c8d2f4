/* A card looked through before it is taken in. */
#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-survey.h"

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
      batch_add_words (builder, "reasons", match->reasons);
      batch_add_words (builder, "objections", match->objections);
      batch_add_steps (builder, match->steps, zone);
      batch_add_words (builder, "doubts", match->doubts);
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
  batch_print_steps (match->steps);
}

/* Matches that are worth a look on paper. */
#define SHOWN 5

static void
print_look (TptJobSurvey *job)
{
  BatchTable *table = batch_table_new (_(">frames"), _(">of them clips"), _(">other files"), _(">on record already"), NULL);
  GPtrArray *cameras = tpt_job_survey_get_cameras (job);
  const char *first = tpt_job_survey_get_first_reading (job), *last = tpt_job_survey_get_last_reading (job);

  batch_table_add_count (table, tpt_job_survey_get_frames (job));
  batch_table_add_count (table, tpt_job_survey_get_clips (job));
  batch_table_add_count (table, tpt_job_survey_get_others (job));
  batch_table_add_count (table, tpt_job_survey_get_on_record (job));
  batch_table_print (table);
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

int
batch_look (TptProject *project, BatchOptions *options)
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

gboolean
batch_choose_deployment (TptProject *project, BatchOptions *options, GError **error)
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
