#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-sheet.h"

static void
print_json (TptJobSheet *job, BatchOptions *options)
{
  JsonBuilder *builder = json_builder_new ();
  GPtrArray *stations = tpt_job_sheet_get_stations (job);

  json_builder_begin_object (builder);
  batch_add_text (builder, "sheet", options->output);
  batch_add_text (builder, "csv", tpt_job_sheet_get_csv_path (job));
  batch_add_count (builder, "pages", tpt_job_sheet_get_n_pages (job));
  batch_add_words (builder, "stations", stations);
  batch_add_flag (builder, "exact", options->exact);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_unknown (guint n)
{
  if (n > 0)
    g_printerr (g_dngettext (GETTEXT_PACKAGE, "%u station is left out because nobody can say whether it is due; ask for it with --station\n",
                             "%u stations are left out because nobody can say whether they are due; ask for them with --station\n", n), n);
}

int
batch_sheet (BatchOptions *options)
{
  const char *kind = options->words->pdata[2];
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobSheet) job = NULL;
  TptPaper paper = TPT_PAPER_A4;
  TptInstant on, until;
  GError *error = NULL;

  if (options->output == NULL || !tpt_job_sheet_knows (kind))
    {
      g_printerr (_("Usage: tapetum %s\n"), "sheet FILE visit -o OUT.pdf");
      return BATCH_USAGE;
    }
  if (options->size != NULL && !tpt_paper_parse (options->size, &paper, &error))
    return batch_fail (error);
  project = batch_open (options, &error);
  if (project == NULL || !batch_moment (options->on, tpt_project_get_zone (project), &on, &error) ||
      !batch_moment (options->until, tpt_project_get_zone (project), &until, &error))
    return batch_fail (error);
  job = tpt_job_sheet_new (kind, (const char *const *) options->stations, on, until, options->exact);
  tpt_job_sheet_write_to (job, options->output, paper);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_json (job, options);
  else
    printf ("%s\n%s\n", options->output, tpt_job_sheet_get_csv_path (job));
  print_unknown (tpt_job_sheet_get_n_unknown (job));
  return BATCH_DONE;
}
