#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-clock.h"
#include "tpt-job-survey.h"

void
batch_add_steps (JsonBuilder *builder, GPtrArray *steps, TptZone *zone)
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
      batch_add_flag (builder, "proposed", step->proposed);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

void
batch_print_steps (GPtrArray *steps)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const TptClockStep *step = steps->pdata[i];

      printf ("%s%s: %s\n", step->id, step->proposed ? "" : _(" (not proposed)"), step->says);
    }
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
  batch_add_steps (builder, tpt_job_clock_get_steps (job), zone);
  batch_add_words (builder, "doubts", tpt_job_clock_get_doubts (job));
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
  batch_print_steps (tpt_job_clock_get_steps (job));
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
  batch_tell_words (tpt_job_clock_get_doubts (job));
  return BATCH_DONE;
}
