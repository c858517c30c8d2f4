#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-demo.h"
#include "tpt-job-check.h"
#include "tpt-job-import.h"

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
      batch_add_flag (builder, "kept", !lost);
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
      batch_add_words (builder, "problems", problems);
      json_builder_end_object (builder);
      batch_print_json (builder);
    }
  else if (problems->len == 0)
    puts (_("No problems found"));
  for (guint i = 0; !options->json && i < problems->len; i++)
    puts (problems->pdata[i]);
  return problems->len > 0 ? BATCH_IN_PART : BATCH_DONE;
}
