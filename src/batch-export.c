#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-export.h"

static void
print_json (TptJobExport *job, BatchOptions *options)
{
  JsonBuilder *builder = json_builder_new ();
  const char *const *files = tpt_job_export_get_files (job);

  json_builder_begin_object (builder);
  batch_add_count (builder, "rows", tpt_job_export_get_rows (job));
  batch_add_count (builder, "generalised", tpt_job_export_get_generalised (job));
  batch_add_count (builder, "people_left_out", tpt_job_export_get_people (job));
  batch_add_flag (builder, "exact", options->exact);
  json_builder_set_member_name (builder, "files");
  json_builder_begin_array (builder);
  for (guint i = 0; files[i] != NULL; i++)
    {
      json_builder_begin_object (builder);
      batch_add_text (builder, "file", files[i]);
      batch_add_count (builder, "rows", tpt_job_export_get_rows_of (job, i));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_table (TptJobExport *job)
{
  BatchTable *table = batch_table_new (_("file"), _(">rows"), NULL);
  const char *const *files = tpt_job_export_get_files (job);

  for (guint i = 0; files[i] != NULL; i++)
    {
      batch_table_add (table, files[i]);
      batch_table_add_count (table, tpt_job_export_get_rows_of (job, i));
    }
  batch_table_print (table);
}

/* What the reader of the tables should know about them. */
static void
print_notes (TptJobExport *job, BatchOptions *options)
{
  gint64 people = tpt_job_export_get_people (job);

  if (options->exact)
    g_printerr ("%s\n", _("With exact locations: for those who may know them."));
  else
    g_printerr ("%s\n", _("Places are on a coarse grid; names of stations, ways in, notes and serial numbers are left out. --exact writes them."));
  if (people > 0)
    g_printerr (g_dngettext (GETTEXT_PACKAGE, "%d row about a picture with people was left out.\n",
                             "%d rows about pictures with people were left out.\n", (gulong) people), (int) people);
}

int
batch_export (BatchOptions *options)
{
  const char *format = options->words->pdata[2];
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobExport) job = NULL;
  GError *error = NULL;

  if (options->output == NULL || !tpt_job_export_knows (format))
    {
      g_printerr (_("Usage: tapetum %s\n"), "export FILE csv -o FOLDER");
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  job = tpt_job_export_new (format, options->output, options->exact);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_json (job, options);
  else
    print_table (job);
  print_notes (job, options);
  return BATCH_DONE;
}
