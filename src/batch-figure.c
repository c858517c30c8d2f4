#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-figure.h"

/* What only some kinds know. */
static gboolean
check_options (BatchOptions *options, const char *kind, TptLivesBy *by)
{
  g_autofree char *kinds = tpt_job_figure_list_kinds (", ");
  gboolean is_due = g_str_equal (kind, "due"), is_lives = g_str_equal (kind, "lives");

  if (!tpt_job_figure_knows (kind))
    g_printerr (_("There is no figure “%s”; there are: %s.\n"), kind, kinds);
  else if (options->output == NULL)
    g_printerr (_("Say where to: tapetum figure FILE %s -o OUT.png, .svg or .pdf\n"), kind);
  else if (options->by != NULL && (!is_lives || !tpt_lives_by_parse (options->by, by)))
    g_printerr ("%s", _("--by is “kind”, “housing”, “cause” or “model”, and for the figure of lives only.\n"));
  else if ((options->on != NULL || options->until != NULL) && !is_due)
    g_printerr ("%s", _("--on and --until are for the figure of what is due only.\n"));
  else if (options->clock != NULL && !g_str_equal (kind, "hours"))
    g_printerr ("%s", _("--clock is for the figure of hours only.\n"));
  else
    return TRUE;
  return FALSE;
}

static void
print_paths (BatchOptions *options, TptJobFigure *job)
{
  JsonBuilder *builder;

  if (!options->json)
    {
      printf ("%s\n%s\n", options->output, tpt_job_figure_get_csv_path (job));
      return;
    }
  builder = json_builder_new ();
  json_builder_begin_object (builder);
  batch_add_text (builder, "figure", options->output);
  batch_add_text (builder, "csv", tpt_job_figure_get_csv_path (job));
  batch_add_flag (builder, "generalised", !options->exact);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

int
batch_figure (BatchOptions *options)
{
  const char *kind = options->words->pdata[2];
  TptLivesBy by = TPT_LIVES_BY_KIND;
  TptInstant on, until;
  gboolean by_sun;
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobFigure) job = NULL;
  GError *error = NULL;

  if (!check_options (options, kind, &by))
    return BATCH_USAGE;
  if ((options->size != NULL && !tpt_figure_size_parse (options->size, &size, &error)) ||
      !batch_by_sun (options, &by_sun, &error))
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
  tpt_job_figure_set_by_sun (job, by_sun);
  tpt_job_figure_write_to (job, options->output, &size, &style);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  print_paths (options, job);
  return BATCH_DONE;
}
