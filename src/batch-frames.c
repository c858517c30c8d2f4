#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-batches.h"
#include "tpt-job-frames.h"
#include "tpt-number.h"

/* Rows read at once: a project has a million frames. */
#define CHUNK 1000

static gboolean
read_share (const char *text, const char *option, double *share, GError **error)
{
  *share = NAN;
  if (text == NULL || tpt_number_parse_real (text, 0, 1, share, NULL))
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("%s takes a number from 0 to 1, not “%s”"), option, text);
  return FALSE;
}

static gboolean
read_count (const char *text, const char *option, gint64 *count, GError **error)
{
  if (text == NULL || tpt_number_parse_integer (text, 1, G_MAXINT, count, NULL))
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("%s takes a whole number from 1, not “%s”"), option, text);
  return FALSE;
}

/* (transfer full) (nullable) */
static TptFrameQuery *
read_query (BatchOptions *options, TptZone *zone, GError **error)
{
  g_autoptr (TptFilter) filter = batch_filter (options, zone, error);
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();

  if (filter == NULL || !read_share (options->certainty_below, "--certainty-below", &query->certainty_below, error))
    return NULL;
  if (options->blank_first && options->blank_last)
    {
      g_set_error_literal (error, TPT_ERROR, TPT_ERROR_USAGE, _("--blank-first and --blank-last cannot both be."));
      return NULL;
    }
  query->batch = g_strdup (options->batch);
  query->stations = g_steal_pointer (&filter->stations);
  query->species = g_steal_pointer (&filter->species);
  query->types = g_strdupv (options->types);
  query->range = filter->range;
  query->hour_from = filter->hour_from;
  query->hour_to = filter->hour_to;
  query->undecided = options->undecided;
  query->disagreeing = options->disagreeing;
  query->marked = options->marked;
  query->every_frame = TRUE;
  query->order = options->blank_first ? TPT_FRAMES_BLANK_FIRST : options->blank_last ? TPT_FRAMES_BLANK_LAST : TPT_FRAMES_BY_TIME;
  return g_steal_pointer (&query);
}

static void
add_seen (JsonBuilder *builder, const TptSeen *seen, TptZone *zone)
{
  json_builder_begin_object (builder);
  batch_add_text (builder, "observation", seen->observation);
  batch_add_text (builder, "type", seen->type);
  batch_add_text (builder, "scientific_name", seen->species);
  if (seen->count > 0)
    batch_add_count (builder, "count", seen->count);
  else
    batch_add_text (builder, "count", NULL);
  batch_add_text (builder, "sex", seen->sex);
  batch_add_text (builder, "life_stage", seen->life_stage);
  batch_add_text (builder, "behaviour", seen->behaviour);
  batch_add_text (builder, "individual", seen->individual);
  batch_add_text (builder, "notes", seen->notes);
  batch_add_real (builder, "certainty", seen->certainty);
  batch_add_text (builder, "identified_by", seen->by);
  batch_add_instant (builder, "identified_at", seen->at, zone);
  batch_add_count (builder, "opinion", seen->opinion);
  json_builder_end_object (builder);
}

static void
add_frame (JsonBuilder *builder, const TptFrameRow *row, TptZone *zone)
{
  json_builder_begin_object (builder);
  batch_add_text (builder, "frame", row->frame);
  batch_add_text (builder, "file", row->file);
  batch_add_text (builder, "station", row->station);
  batch_add_text (builder, "deployment", row->deployment);
  batch_add_text (builder, "batch", row->batch);
  batch_add_instant (builder, "time", row->at, zone);
  batch_add_text (builder, "camera_time", row->camera_time);
  json_builder_set_member_name (builder, "trigger");
  if (row->ref.trigger_id != 0)
    json_builder_add_int_value (builder, row->ref.trigger_id);
  else
    json_builder_add_null_value (builder);
  batch_add_real (builder, "blank_score", row->blank_score);
  batch_add_flag (builder, "marked", row->marked);
  batch_add_flag (builder, "disagreement", row->disagreement);
  json_builder_set_member_name (builder, "observations");
  json_builder_begin_array (builder);
  for (guint i = 0; i < row->seen->len; i++)
    add_seen (builder, row->seen->pdata[i], zone);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

/* Printed frame by frame: the whole document may not fit into memory. */
static void
print_frame (const TptFrameRow *row, TptZone *zone, gboolean first)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;

  add_frame (builder, row, zone);
  root = json_builder_get_root (builder);
  json_generator_set_root (generator, root);
  text = json_generator_to_data (generator, NULL);
  printf ("%s\n    %s", first ? "" : ",", text);
}

static void
add_line (BatchTable *table, const TptFrameRow *row, TptZone *zone)
{
  g_autofree char *time = row->at != TPT_NO_INSTANT ? tpt_instant_format (row->at, zone) : NULL;
  g_autofree char *shows = tpt_frame_row_describe (row);

  batch_table_add (table, row->frame);
  batch_table_add (table, time);
  batch_table_add (table, row->station);
  batch_table_add (table, row->batch);
  batch_table_add_real (table, row->blank_score, 2);
  batch_table_add (table, shows);
}

/* @table: (nullable): %NULL prints JSON. */
static gboolean
print_rows (TptProject *project, GArray *refs, BatchTable *table, GError **error)
{
  TptZone *zone = tpt_project_get_zone (project);

  for (guint from = 0; from < refs->len; from += CHUNK)
    {
      g_autoptr (TptJobFrameRows) job =
        tpt_job_frame_rows_new (&g_array_index (refs, TptFrameRef, from), MIN (CHUNK, refs->len - from));
      GPtrArray *rows = tpt_job_frame_rows_get_rows (job);

      if (!batch_run (project, TPT_JOB (job), error))
        return FALSE;
      for (guint i = 0; i < rows->len; i++)
        if (table != NULL)
          add_line (table, rows->pdata[i], zone);
        else
          print_frame (rows->pdata[i], zone, from + i == 0);
    }
  return TRUE;
}

static int
print_frames (TptProject *project, TptJobFrames *job, GArray *refs, gboolean json)
{
  BatchTable *table = NULL;
  GError *error = NULL;

  if (json)
    printf ("{\n  \"triggers\" : %" G_GINT64_FORMAT ",\n  \"undecided\" : %" G_GINT64_FORMAT ",\n  \"frames\" : [",
            tpt_job_frames_get_triggers (job), tpt_job_frames_get_undecided (job));
  else
    table = batch_table_new (_("frame"), _("time"), _("station"), _("batch"), _(">blank score"), _("shows"), NULL);
  if (!print_rows (project, refs, table, &error))
    return batch_fail (error);
  if (json)
    printf ("\n  ]\n}\n");
  else
    batch_table_print (table);
  return BATCH_DONE;
}

int
batch_frames (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFrameQuery) query = NULL;
  g_autoptr (TptJobFrames) job = NULL;
  g_autoptr (GArray) refs = NULL;
  GError *error = NULL;
  gint64 limit = G_MAXINT;

  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  query = read_query (options, tpt_project_get_zone (project), &error);
  if (query == NULL || !read_count (options->limit, "--limit", &limit, &error))
    return batch_fail (error);
  job = tpt_job_frames_new (query);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  refs = tpt_job_frames_steal_refs (job);
  g_array_set_size (refs, MIN (refs->len, (guint) limit));
  return print_frames (project, job, refs, options->json);
}

static void
add_batch (JsonBuilder *builder, const TptBatchState *state, TptZone *zone)
{
  json_builder_begin_object (builder);
  batch_add_text (builder, "batch", state->batch);
  batch_add_text (builder, "deployment", state->deployment);
  batch_add_text (builder, "station", state->station);
  batch_add_instant (builder, "taken_at", state->taken_at, zone);
  batch_add_instant (builder, "first", state->first, zone);
  batch_add_instant (builder, "last", state->last, zone);
  batch_add_count (builder, "frames", state->frames);
  batch_add_count (builder, "triggers", state->triggers);
  batch_add_count (builder, "undecided", state->undecided);
  batch_add_count (builder, "disagreements", state->disagreements);
  batch_add_count (builder, "scored", state->scored);
  batch_add_count (builder, "set_aside", state->set_aside);
  json_builder_end_object (builder);
}

static void
print_batches_json (GPtrArray *batches, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "batches");
  json_builder_begin_array (builder);
  for (guint i = 0; i < batches->len; i++)
    add_batch (builder, batches->pdata[i], zone);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_batches (GPtrArray *batches, TptZone *zone)
{
  BatchTable *table = batch_table_new (_("batch"), _("station"), _("taken in"), _(">frames"), _(">triggers"), _(">undecided"),
                                       _(">differing"), _(">set aside"), NULL);

  for (guint i = 0; i < batches->len; i++)
    {
      const TptBatchState *state = batches->pdata[i];

      batch_table_add (table, state->batch);
      batch_table_add (table, state->station);
      batch_table_add_day (table, state->taken_at, zone);
      batch_table_add_count (table, state->frames);
      batch_table_add_count (table, state->triggers);
      batch_table_add_count (table, state->undecided);
      batch_table_add_count (table, state->disagreements);
      batch_table_add_count (table, state->set_aside);
    }
  batch_table_print (table);
}

int
batch_batches (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobBatches) job = tpt_job_batches_new ();
  GError *error = NULL;

  project = batch_open (options, &error);
  if (project == NULL || !batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_batches_json (tpt_job_batches_get_batches (job), tpt_project_get_zone (project));
  else
    print_batches (tpt_job_batches_get_batches (job), tpt_project_get_zone (project));
  return BATCH_DONE;
}
