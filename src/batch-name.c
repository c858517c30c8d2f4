#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "batch-private.h"
#include "tpt-job-decide.h"
#include "tpt-job-frames.h"
#include "tpt-number.h"

static gboolean
refuse_usage (GError **error, const char *why)
{
  g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, why);
  return FALSE;
}

static gboolean
check_once (GStrv values, const char *why, GError **error)
{
  return values == NULL || g_strv_length (values) == 1 || refuse_usage (error, why);
}

static gboolean
read_numbers (BatchOptions *options, TptDecision *decision, GError **error)
{
  gint64 count = 0;

  if (options->count != NULL && !tpt_number_parse_integer (options->count, 1, 1000000, &count, NULL))
    return refuse_usage (error, _("--count takes a whole number from 1 to 1,000,000."));
  if (options->certainty != NULL && !tpt_number_parse_real (options->certainty, 0, 1, &decision->certainty, NULL))
    return refuse_usage (error, _("--certainty takes a number from 0 to 1."));
  decision->count = (int) count;
  return TRUE;
}

/* Texts stay those of the command line. */
static gboolean
read_decision (BatchOptions *options, TptDecision *decision, GError **error)
{
  *decision = (TptDecision){
    .type = options->types != NULL ? options->types[0] : NULL,
    .species = options->species != NULL ? options->species[0] : NULL,
    .sex = options->sex,
    .life_stage = options->life_stage,
    .behaviour = options->behaviour,
    .individual = options->individual,
    .notes = options->notes,
    .certainty = NAN,
    .by = options->by,
    .besides = options->besides,
  };
  if ((options->types != NULL) == options->take_back)
    return refuse_usage (error, _("What do the triggers show? Give either --type or --take-back."));
  return check_once (options->types, _("--type can be given once here; use --besides for more."), error) &&
         check_once (options->species, _("--species can be given once here; use --besides for more."), error) &&
         read_numbers (options, decision, error);
}

/* (transfer full) (nullable) (element-type gint64): the triggers of the frames
 * named on the command line. */
static GArray *
find_triggers (BatchOptions *options, TptProject *project, GError **error)
{
  g_autoptr (GStrvBuilder) codes = g_strv_builder_new ();
  g_autoptr (GArray) triggers = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (TptJobFrameRows) job = NULL;
  g_auto (GStrv) words = NULL;
  GPtrArray *rows;

  for (guint i = 2; i < options->words->len; i++)
    g_strv_builder_add (codes, options->words->pdata[i]);
  words = g_strv_builder_end (codes);
  job = tpt_job_frame_rows_new_for_codes ((const char *const *) words);
  if (!batch_run (project, TPT_JOB (job), error))
    return NULL;
  rows = tpt_job_frame_rows_get_rows (job);
  for (guint i = 0; i < rows->len; i++)
    {
      const TptFrameRow *row = rows->pdata[i];

      if (row->ref.trigger_id == 0)
        {
          g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Frame “%s” has no time and belongs to no trigger: it cannot be named"),
                       row->frame);
          return NULL;
        }
      g_array_append_val (triggers, row->ref.trigger_id);
    }
  return g_steal_pointer (&triggers);
}

static void
print_outcome (TptJobDecide *job, gboolean json)
{
  gint64 changed = tpt_job_decide_get_changed (job), beside = tpt_job_decide_get_beside (job);
  JsonBuilder *builder;

  if (!json)
    {
      g_print (ngettext ("%d trigger changed.\n", "%d triggers changed.\n", (gulong) changed), (int) changed);
      if (beside > 0)
        g_print (ngettext ("In %d trigger this is kept beside somebody else’s word.\n",
                           "In %d triggers this is kept beside somebody else’s word.\n", (gulong) beside), (int) beside);
      return;
    }
  builder = json_builder_new ();
  json_builder_begin_object (builder);
  batch_add_count (builder, "triggers", changed);
  batch_add_count (builder, "beside", beside);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

int
batch_name (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (GArray) triggers = NULL;
  g_autoptr (TptJobDecide) job = NULL;
  TptDecision decision;
  GError *error = NULL;

  if (!read_decision (options, &decision, &error))
    return batch_fail (error);
  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  triggers = find_triggers (options, project, &error);
  if (triggers == NULL)
    return batch_fail (error);
  job = tpt_job_decide_new ((const gint64 *) (gpointer) triggers->data, triggers->len, &decision);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  print_outcome (job, options->json);
  return BATCH_DONE;
}
