#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-due.h"
#include "tpt-job-effort.h"
#include "tpt-words.h"

static void
add_interval (JsonBuilder *builder, const TptInterval *interval, TptZone *zone)
{
  batch_add_instant (builder, "p10", interval->p10, zone);
  batch_add_instant (builder, "p50", interval->p50, zone);
  batch_add_instant (builder, "p90", interval->p90, zone);
}

static void
add_units (JsonBuilder *builder, const TptForecast *forecast, TptZone *zone)
{
  json_builder_set_member_name (builder, "units");
  json_builder_begin_array (builder);
  for (guint i = 0; i < forecast->units->len; i++)
    {
      const TptUnitForecast *unit = forecast->units->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "unit", unit->unit);
      batch_add_text (builder, "kind", unit->kind);
      batch_add_real (builder, "p_out", unit->p_out);
      add_interval (builder, &unit->interval, zone);
      batch_add_text (builder, "why", unit->why);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_card (JsonBuilder *builder, const TptCardForecast *card, TptZone *zone)
{
  json_builder_set_member_name (builder, "card");
  json_builder_begin_object (builder);
  batch_add_real (builder, "frames_left", card->frames_left);
  batch_add_real (builder, "p_full", card->p_full);
  add_interval (builder, &card->interval, zone);
  json_builder_end_object (builder);
}

static const char *
state_word (TptSymbolState state)
{
  static const char *const words[] = { "fine", "soon", "now", "down", "unknown" };

  return words[state];
}

static void
add_station (JsonBuilder *builder, TptStationItem *item, TptZone *zone)
{
  const TptForecast *forecast = tpt_station_item_get_forecast (item);

  json_builder_begin_object (builder);
  batch_add_text (builder, "station", tpt_station_item_get_code (item));
  batch_add_text (builder, "deployment", tpt_record_get_code (tpt_station_item_get_deployment (item)));
  batch_add_text (builder, "state", state_word (forecast->state));
  batch_add_real (builder, "p_down", forecast->p_down);
  batch_add_real (builder, "lost_nights", forecast->lost_nights);
  add_interval (builder, &forecast->interval, zone);
  batch_add_text (builder, "limiting", forecast->limiting);
  add_units (builder, forecast, zone);
  add_card (builder, &forecast->card, zone);
  batch_add_real (builder, "triggers_per_day", forecast->triggers_per_day);
  batch_add_text (builder, "why", forecast->why);
  json_builder_end_object (builder);
}

static void
add_packing (JsonBuilder *builder, GArray *items)
{
  json_builder_set_member_name (builder, "pack");
  json_builder_begin_array (builder);
  for (guint i = 0; i < items->len; i++)
    {
      const TptPackItem *item = &g_array_index (items, TptPackItem, i);

      json_builder_begin_object (builder);
      batch_add_text (builder, "what", item->what);
      batch_add_text (builder, "size", item->size);
      batch_add_text (builder, "chemistry", item->chemistry);
      batch_add_count (builder, "needed", item->needed);
      batch_add_count (builder, "on_shelf", item->on_shelf);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
print_due_json (TptJobDue *job, TptZone *zone)
{
  GListModel *stations = tpt_job_due_get_stations (job);
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_instant (builder, "on", tpt_job_due_get_on (job), zone);
  batch_add_instant (builder, "until", tpt_job_due_get_until (job), zone);
  batch_add_text (builder, "summary", tpt_job_due_get_summary (job));
  json_builder_set_member_name (builder, "stations");
  json_builder_begin_array (builder);
  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      if (tpt_station_item_get_deployment (item) != NULL)
        add_station (builder, item, zone);
    }
  json_builder_end_array (builder);
  add_packing (builder, tpt_job_due_get_packing (job));
  json_builder_end_object (builder);
  batch_print_json (builder);
}

/* Where the shelf is not counted it has nothing to say. */
static void
print_packing (GArray *items)
{
  BatchTable *table;

  if (items->len == 0)
    return;
  table = batch_table_new (_("to bring"), _(">on the shelf"), NULL);
  for (guint i = 0; i < items->len; i++)
    {
      const TptPackItem *item = &g_array_index (items, TptPackItem, i);
      g_autofree char *pieces = tpt_pack_item_describe (item, items);

      batch_table_add (table, pieces);
      if (item->counted)
        batch_table_add_count (table, item->on_shelf);
      else
        batch_table_add (table, NULL);
    }
  putchar ('\n');
  batch_table_print (table);
}

static void
print_due (TptJobDue *job, TptZone *zone)
{
  GListModel *stations = tpt_job_due_get_stations (job);
  BatchTable *table = batch_table_new (_("station"), _("state"), _(">chance down"), _(">lost nights"), _("10 %"), _("median"),
                                       _("90 %"), _("first out"), NULL);

  printf ("%s\n", tpt_job_due_get_summary (job));
  putchar ('\n');
  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);
      const TptForecast *forecast = tpt_station_item_get_forecast (item);

      if (tpt_station_item_get_deployment (item) == NULL)
        continue;
      batch_table_add (table, tpt_station_item_get_title (item));
      batch_table_add (table, tpt_symbol_state_name (forecast->state));
      batch_table_add_real (table, forecast->p_down, 2);
      batch_table_add_real (table, forecast->lost_nights, 1);
      batch_table_add_day (table, forecast->interval.p10, zone);
      batch_table_add_day (table, forecast->interval.p50, zone);
      batch_table_add_day (table, forecast->interval.p90, zone);
      batch_table_add (table, forecast->limiting_label != NULL ? forecast->limiting_label : forecast->why);
    }
  batch_table_print (table);
  print_packing (tpt_job_due_get_packing (job));
}

int
batch_due (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobDue) job = NULL;
  GError *error = NULL;
  TptInstant on, until;

  project = batch_open (options, &error);
  if (project == NULL || !batch_moments (options, project, &on, &until, &error))
    return batch_fail (error);
  job = tpt_job_due_new (on, until);
  tpt_job_due_set_stations (job, (const char *const *) options->stations);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_due_json (job, tpt_project_get_zone (project));
  else
    print_due (job, tpt_project_get_zone (project));
  return BATCH_DONE;
}

static void
print_effort_json (TptJobEffort *job, TptZone *zone)
{
  GPtrArray *rows = tpt_job_effort_get_deployments (job);
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_real (builder, "trap_nights", tpt_job_effort_get_nights (job));
  json_builder_set_member_name (builder, "deployments");
  json_builder_begin_array (builder);
  for (guint i = 0; i < rows->len; i++)
    {
      const TptEffort *row = rows->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "deployment", row->deployment);
      batch_add_text (builder, "station", row->station);
      batch_add_real (builder, "nights", row->nights);
      json_builder_set_member_name (builder, "gaps");
      json_builder_begin_array (builder);
      for (guint g = 0; g < row->gaps->len; g++)
        {
          const TptGap *gap = &g_array_index (row->gaps, TptGap, g);

          json_builder_begin_object (builder);
          batch_add_instant (builder, "from", gap->range.from, zone);
          batch_add_instant (builder, "to", gap->range.to, zone);
          batch_add_text (builder, "why", tpt_gap_why_to_string (gap->why));
          json_builder_end_object (builder);
        }
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

/* (transfer full): "found dead, 17 May to 4 June 2026 (18.2 nights)" */
static char *
describe_gap (const TptGap *gap, TptZone *zone)
{
  g_autofree char *period = tpt_words_period (gap->range, zone);

  /* Translators: why nothing counts, when, and for how many nights. */
  return g_strdup_printf (_("%1$s, %2$s (%3$.1f nights)"), tpt_gap_why_label (gap->why), period,
                          (double) (gap->range.to - gap->range.from) / TPT_DAY);
}

/* A line for each gap. */
static void
print_effort (TptJobEffort *job, TptZone *zone)
{
  GPtrArray *rows = tpt_job_effort_get_deployments (job);
  BatchTable *table = batch_table_new (_("deployment"), _("station"), _(">trap nights"), _("does not count"), NULL);

  for (guint i = 0; i < rows->len; i++)
    {
      const TptEffort *row = rows->pdata[i];

      batch_table_add (table, row->deployment);
      batch_table_add (table, row->station);
      batch_table_add_real (table, row->nights, 1);
      for (guint g = 0; g < MAX (row->gaps->len, 1); g++)
        {
          g_autofree char *words = g < row->gaps->len ? describe_gap (&g_array_index (row->gaps, TptGap, g), zone) : g_strdup ("");

          for (guint blank = 0; g > 0 && blank < 3; blank++)
            batch_table_add (table, "");
          batch_table_add (table, words);
        }
    }
  batch_table_print (table);
  printf (_("%.1f trap nights\n"), tpt_job_effort_get_nights (job));
}

int
batch_effort (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobEffort) job = NULL;
  GError *error = NULL;

  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL)
    return batch_fail (error);
  job = tpt_job_effort_new (filter, TPT_NO_INSTANT);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_effort_json (job, tpt_project_get_zone (project));
  else
    print_effort (job, tpt_project_get_zone (project));
  return BATCH_DONE;
}
