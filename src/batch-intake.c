#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-intake.h"

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
  batch_add_steps (builder, tpt_job_intake_get_steps (job), zone);
  batch_add_words (builder, "doubts", tpt_job_intake_get_doubts (job));
  batch_add_words (builder, "objections", tpt_job_intake_get_objections (job));
  batch_add_flag (builder, "safe", tpt_job_intake_get_safe (job));
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
  batch_print_steps (tpt_job_intake_get_steps (job));
  if (tpt_job_intake_get_safe (job))
    puts (_("Safe to reuse this card: everything on it was copied and read back."));
  else
    printf (_("Keep this card as it is: %s\n"), tpt_job_intake_get_why_not (job));
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
  batch_tell_words (tpt_job_intake_get_objections (job));
  batch_tell_words (tpt_job_intake_get_doubts (job));
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
    return batch_look (project, options);
  if (options->deployment == NULL && !batch_choose_deployment (project, options, &error))
    return batch_fail (error);
  return take_in (project, options);
}
