#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-score.h"

static void
print_json (TptJobScore *job)
{
  JsonBuilder *builder = json_builder_new ();
  gint64 triggers = tpt_job_score_get_triggers (job), scored = tpt_job_score_get_scored (job), unseen = tpt_job_score_get_unseen (job);

  json_builder_begin_object (builder);
  batch_add_count (builder, "triggers", triggers);
  batch_add_count (builder, "scored", scored);
  batch_add_count (builder, "without_picture", unseen);
  batch_add_count (builder, "too_little", triggers - scored - unseen);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_words (TptJobScore *job)
{
  gint64 triggers = tpt_job_score_get_triggers (job), scored = tpt_job_score_get_scored (job), unseen = tpt_job_score_get_unseen (job);
  gint64 little = triggers - scored - unseen;

  if (triggers == 0)
    puts (_("Every trigger has a score already"));
  if (scored > 0)
    printf (ngettext ("%d trigger got a score\n", "%d triggers got a score\n", (gulong) scored), (int) scored);
  if (little > 0)
    printf (ngettext ("%d trigger has too little to be compared with, and no score\n",
                      "%d triggers have too little to be compared with, and no score\n", (gulong) little),
            (int) little);
  if (unseen > 0)
    printf (ngettext ("%d trigger has no picture that can be shown, and no score\n",
                      "%d triggers have no picture that can be shown, and no score\n", (gulong) unseen),
            (int) unseen);
}

int
batch_score (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobScore) job = tpt_job_score_new (options->batch, options->again);
  GError *error = NULL;

  project = batch_open (options, &error);
  if (project == NULL || !batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_json (job);
  else
    print_words (job);
  return tpt_job_score_get_unseen (job) > 0 ? BATCH_IN_PART : BATCH_DONE;
}
