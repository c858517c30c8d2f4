#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-figure.h"

int
batch_figure (BatchOptions *options)
{
  const char *kind = options->words->pdata[2];
  TptLivesBy by = TPT_LIVES_BY_KIND;
  TptInstant on, until;
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobFigure) job = NULL;
  GError *error = NULL;

  if (options->output == NULL || !tpt_job_figure_knows (kind))
    {
      g_autofree char *kinds = tpt_job_figure_list_kinds ("|");

      g_printerr (_("Usage: tapetum figure FILE %s -o OUT.png|svg|pdf\n"), kinds);
      return BATCH_USAGE;
    }
  if (options->by != NULL && (!g_str_equal (kind, "lives") || !tpt_lives_by_parse (options->by, &by)))
    {
      g_printerr ("%s", _("--by is “kind”, “housing”, “cause” or “model”, and for the figure of lives only.\n"));
      return BATCH_USAGE;
    }
  if ((options->on != NULL || options->until != NULL) && !g_str_equal (kind, "due"))
    {
      g_printerr ("%s", _("--on and --until are for the figure of what is due only.\n"));
      return BATCH_USAGE;
    }
  if (options->size != NULL && !tpt_figure_size_parse (options->size, &size, &error))
    return batch_fail (error);
  if (options->language != NULL)
    g_setenv ("LANGUAGE", options->language, TRUE);
  style.palette = TPT_PALETTE_PRINT;
  style.framed = TRUE;

  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL || !batch_moments (options, project, &on, &until, &error))
    return batch_fail (error);
  job = tpt_job_figure_new (kind, filter, options->exact);
  tpt_job_figure_set_by (job, by);
  tpt_job_figure_set_moments (job, on, until);
  tpt_job_figure_write_to (job, options->output, &size, &style);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    {
      JsonBuilder *builder = json_builder_new ();

      json_builder_begin_object (builder);
      batch_add_text (builder, "figure", options->output);
      batch_add_text (builder, "csv", tpt_job_figure_get_csv_path (job));
      batch_add_flag (builder, "generalised", !options->exact);
      json_builder_end_object (builder);
      batch_print_json (builder);
    }
  else
    printf ("%s\n%s\n", options->output, tpt_job_figure_get_csv_path (job));
  return BATCH_DONE;
}
