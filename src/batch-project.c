#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-demo.h"
#include "tpt-job-check.h"
#include "tpt-job-import.h"
#include "tpt-job-intake.h"

int
batch_new (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  GError *error = NULL;

  if (options->name == NULL || options->zone == NULL)
    {
      g_printerr ("%s\n", _("A new project needs --name and --zone; see “tapetum help new”."));
      return BATCH_USAGE;
    }
  project = tpt_project_create (options->words->pdata[1], options->name, options->zone, &error);
  if (project == NULL)
    return batch_fail (error);
  g_printerr (_("Made %s\n"), tpt_project_get_path (project));
  return BATCH_DONE;
}

int
batch_demo (BatchOptions *options)
{
  GError *error = NULL;

  if (!tpt_demo_write (options->words->pdata[1], NULL, &error))
    return batch_fail (error);
  g_printerr (_("Wrote the demo: %s/%s\n"), (const char *) options->words->pdata[1], TPT_DEMO_FILE);
  return BATCH_DONE;
}

static void
print_import_json (TptJobImport *job)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_count (builder, "added", tpt_job_import_get_added (job));
  batch_add_count (builder, "updated", tpt_job_import_get_updated (job));
  batch_add_count (builder, "unchanged", tpt_job_import_get_unchanged (job));
  json_builder_set_member_name (builder, "refused");
  json_builder_begin_array (builder);
  for (guint i = 0; i < tpt_job_import_get_n_refused (job); i++)
    {
      const char *file, *column, *reason;
      gint64 line;
      gboolean lost = tpt_job_import_get_refused (job, i, &file, &line, &column, &reason);

      json_builder_begin_object (builder);
      batch_add_text (builder, "file", file);
      batch_add_count (builder, "line", line);
      batch_add_text (builder, "column", column);
      batch_add_text (builder, "reason", reason);
      json_builder_set_member_name (builder, "kept");
      json_builder_add_boolean_value (builder, !lost);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static gboolean
print_refused (TptJobImport *job)
{
  gboolean lost = FALSE;

  for (guint i = 0; i < tpt_job_import_get_n_refused (job); i++)
    {
      g_autofree char *line = tpt_job_import_describe_refused (job, i);
      const char *file, *column, *reason;
      gint64 number;

      lost |= tpt_job_import_get_refused (job, i, &file, &number, &column, &reason);
      g_printerr ("%s\n", line);
    }
  return lost;
}

int
batch_import (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobImport) job = NULL;
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  GError *error = NULL;

  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  for (guint i = 2; i < options->words->len; i++)
    g_ptr_array_add (paths, options->words->pdata[i]);
  g_ptr_array_add (paths, NULL);
  job = tpt_job_import_new ((const char *const *) paths->pdata, options->dry_run, options->lenient);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);

  if (options->json)
    print_import_json (job);
  else
    printf (_("%d added, %d updated, %d unchanged, %u refused\n"), (int) tpt_job_import_get_added (job),
            (int) tpt_job_import_get_updated (job), (int) tpt_job_import_get_unchanged (job),
            tpt_job_import_get_n_lost (job));
  return print_refused (job) ? BATCH_IN_PART : BATCH_DONE;
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
print_intake_json (TptJobIntake *job, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();
  GPtrArray *doubts = tpt_job_intake_get_doubts (job);

  json_builder_begin_object (builder);
  batch_add_text (builder, "batch", tpt_job_intake_get_batch (job));
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
  json_builder_set_member_name (builder, "doubts");
  json_builder_begin_array (builder);
  for (guint i = 0; i < doubts->len; i++)
    json_builder_add_string_value (builder, doubts->pdata[i]);
  json_builder_end_array (builder);
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
}

int
batch_intake (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobIntake) job = NULL;
  GError *error = NULL;

  if (options->deployment == NULL)
    {
      g_printerr ("%s\n", _("Say with --deployment in which one the card stood."));
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  job = tpt_job_intake_new (options->deployment, options->words->pdata[2]);
  if (options->pictures != NULL)
    tpt_job_intake_set_pictures (job, options->pictures);
  tpt_job_intake_set_clock (job, options->clock_read, options->clock_true);
  tpt_job_intake_set_verify_only (job, options->verify_only);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);

  if (options->json)
    print_intake_json (job, tpt_project_get_zone (project));
  else
    print_intake (job, tpt_project_get_zone (project));
  print_notes (_("set aside"), tpt_job_intake_get_unreadable (job));
  print_notes (_("damaged"), tpt_job_intake_get_damaged (job));
  print_notes (_("missing"), tpt_job_intake_get_missing (job));
  for (guint i = 0; i < tpt_job_intake_get_doubts (job)->len; i++)
    g_printerr ("%s\n", (const char *) tpt_job_intake_get_doubts (job)->pdata[i]);
  return tpt_job_intake_get_unreadable (job)->len > 0 || tpt_job_intake_get_missing (job)->len > 0 ? BATCH_IN_PART : BATCH_DONE;
}

int
batch_check (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobCheck) job = tpt_job_check_new (options->pictures_check);
  GPtrArray *problems;
  GError *error = NULL;

  project = batch_open (options, &error);
  if (project == NULL || !batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);

  problems = tpt_job_check_get_problems (job);
  if (options->json)
    {
      JsonBuilder *builder = json_builder_new ();

      json_builder_begin_object (builder);
      json_builder_set_member_name (builder, "problems");
      json_builder_begin_array (builder);
      for (guint i = 0; i < problems->len; i++)
        json_builder_add_string_value (builder, problems->pdata[i]);
      json_builder_end_array (builder);
      json_builder_end_object (builder);
      batch_print_json (builder);
    }
  else if (problems->len == 0)
    puts (_("No problems found"));
  for (guint i = 0; !options->json && i < problems->len; i++)
    puts (problems->pdata[i]);
  return problems->len > 0 ? BATCH_IN_PART : BATCH_DONE;
}
