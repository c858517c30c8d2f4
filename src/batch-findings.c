#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "batch-private.h"
#include "tpt-job-figure.h"
#include "tpt-job-findings.h"

/* A species is listed when it was seen, or was asked for. */
static gboolean
is_listed (TptSpeciesItem *item, const TptFilter *filter)
{
  if (filter->species == NULL)
    return tpt_species_item_get_rate (item)->detections > 0;
  for (guint i = 0; filter->species[i] != NULL; i++)
    if (tpt_species_item_is_called (item, filter->species[i]))
      return TRUE;
  return FALSE;
}

static void
add_rates (JsonBuilder *builder, TptJobFindings *job, const TptFilter *filter)
{
  GListModel *species = tpt_job_findings_get_species (job);

  json_builder_set_member_name (builder, "species");
  json_builder_begin_array (builder);
  for (guint i = 0; i < g_list_model_get_n_items (species); i++)
    {
      g_autoptr (TptSpeciesItem) item = g_list_model_get_item (species, i);
      const TptRate *rate = tpt_species_item_get_rate (item);

      if (!is_listed (item, filter))
        continue;
      json_builder_begin_object (builder);
      batch_add_text (builder, "species", tpt_record_get_code (tpt_species_item_get_record (item)));
      batch_add_count (builder, "detections", rate->detections);
      batch_add_count (builder, "individuals", rate->individuals);
      batch_add_count (builder, "stations", rate->stations);
      batch_add_real (builder, "nights", rate->nights);
      batch_add_real (builder, "per_100", rate->per_100);
      batch_add_pair (builder, "ci95", rate->low, rate->high);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
table_rates (BatchTable *table, TptJobFindings *job, const TptFilter *filter, const char *group)
{
  GListModel *species = tpt_job_findings_get_species (job);

  for (guint i = 0; i < g_list_model_get_n_items (species); i++)
    {
      g_autoptr (TptSpeciesItem) item = g_list_model_get_item (species, i);
      const TptRate *rate = tpt_species_item_get_rate (item);

      if (!is_listed (item, filter))
        continue;
      if (group != NULL)
        batch_table_add (table, group);
      batch_table_add (table, tpt_species_item_get_title (item));
      batch_table_add_count (table, rate->detections);
      batch_table_add_count (table, rate->individuals);
      batch_table_add_count (table, rate->stations);
      batch_table_add_real (table, rate->nights, 1);
      batch_table_add_real (table, rate->per_100, 2);
      batch_table_add_real (table, rate->low, 2);
      batch_table_add_real (table, rate->high, 2);
    }
}

/* What a group of --by is called, and its filter. */
typedef struct {
  char *name;
  TptFilter *filter;
} Group;

static void
clear_group (gpointer data)
{
  Group *group = data;

  g_free (group->name);
  tpt_filter_free (group->filter);
}

static void
add_group (GArray *groups, char *name, TptFilter *filter)
{
  Group group = { name, filter };

  g_array_append_val (groups, group);
}

static void
group_by_station (GArray *groups, TptJobFindings *all, const TptFilter *filter)
{
  GListModel *places = tpt_job_findings_get_places (all);

  for (guint i = 0; i < g_list_model_get_n_items (places); i++)
    {
      g_autoptr (TptPlaceItem) place = g_list_model_get_item (places, i);
      const char *code = tpt_record_get_code (tpt_place_item_get_record (place));
      TptFilter *own = tpt_filter_copy (filter);

      g_strfreev (own->stations);
      own->stations = g_strsplit (code, "\x1f", -1);
      add_group (groups, g_strdup (code), own);
    }
}

static void
group_by_month (GArray *groups, TptJobFindings *all, const TptFilter *filter, TptZone *zone)
{
  TptRange period = tpt_job_findings_get_period (all);
  int year, month, day;

  if (period.from == TPT_NO_INSTANT)
    return;
  tpt_civil_from_days (tpt_zone_local_day (zone, period.from), &year, &month, &day);
  for (;;)
    {
      TptInstant start = tpt_zone_day_from_number (zone, tpt_days_from_civil (year, month, 1));
      char *name = g_strdup_printf ("%04d-%02d", year, month);
      TptFilter *own = tpt_filter_copy (filter);
      TptInstant end;

      month = month % 12 + 1;
      year += month == 1;
      end = tpt_zone_day_from_number (zone, tpt_days_from_civil (year, month, 1));
      own->range.from = MAX (start, filter->range.from);
      own->range.to = filter->range.to != TPT_NO_INSTANT ? MIN (end, filter->range.to) : end;
      add_group (groups, name, own);
      if (end >= period.to)
        return;
    }
}

static TptJobFindings *
run_findings (TptProject *project, const TptFilter *filter, GError **error)
{
  g_autoptr (TptJobFindings) job = tpt_job_findings_new (filter);

  return tpt_project_run (project, TPT_JOB (job), NULL, error) ? g_steal_pointer (&job) : NULL;
}

static int
print_groups (BatchOptions *options, TptProject *project, GArray *groups)
{
  JsonBuilder *builder = options->json ? json_builder_new () : NULL;
  BatchTable *table = options->json ? NULL
                                    : batch_table_new (_("group"), _("species"), _(">detections"), _(">animals"), _(">stations"),
                                                       _(">trap nights"), _(">per 100"), _(">from"), _(">to"), NULL);
  GError *error = NULL;

  if (builder != NULL)
    {
      json_builder_begin_object (builder);
      json_builder_set_member_name (builder, "groups");
      json_builder_begin_array (builder);
    }
  for (guint i = 0; i < groups->len; i++)
    {
      const Group *group = &g_array_index (groups, Group, i);
      g_autoptr (TptJobFindings) job = run_findings (project, group->filter, &error);

      if (job == NULL)
        return batch_fail (error);
      if (table != NULL)
        {
          table_rates (table, job, group->filter, group->name);
          continue;
        }
      json_builder_begin_object (builder);
      batch_add_text (builder, "group", group->name);
      add_rates (builder, job, group->filter);
      json_builder_end_object (builder);
    }
  if (table != NULL)
    {
      batch_table_print (table);
      return BATCH_DONE;
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  batch_print_json (builder);
  return BATCH_DONE;
}

static int
print_rates (BatchOptions *options, TptJobFindings *job, const TptFilter *filter)
{
  BatchTable *table;

  if (options->json)
    {
      JsonBuilder *builder = json_builder_new ();

      json_builder_begin_object (builder);
      add_rates (builder, job, filter);
      json_builder_end_object (builder);
      batch_print_json (builder);
      return BATCH_DONE;
    }
  printf ("%s\n\n", tpt_job_findings_get_sentence (job));
  table = batch_table_new (_("species"), _(">detections"), _(">animals"), _(">stations"), _(">trap nights"), _(">per 100"),
                           _(">from"), _(">to"), NULL);
  table_rates (table, job, filter, NULL);
  batch_table_print (table);
  return BATCH_DONE;
}

int
batch_rates (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobFindings) job = NULL;
  g_autoptr (GArray) groups = g_array_new (FALSE, FALSE, sizeof (Group));
  GError *error = NULL;

  if (options->blanks)
    return batch_blanks (options);
  if (options->by != NULL && !g_str_equal (options->by, "month") && !g_str_equal (options->by, "station"))
    {
      g_printerr (_("--by is “month” or “station”, not “%s”.\n"), options->by);
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  job = filter != NULL ? run_findings (project, filter, &error) : NULL;
  if (job == NULL)
    return batch_fail (error);
  if (options->by == NULL)
    return print_rates (options, job, filter);

  g_array_set_clear_func (groups, clear_group);
  if (g_str_equal (options->by, "station"))
    group_by_station (groups, job, filter);
  else
    group_by_month (groups, job, filter, tpt_project_get_zone (project));
  return print_groups (options, project, groups);
}

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
      g_printerr (_("Usage: tapetum %s\n"), "figure FILE strip|map|due|lives -o OUT.png|svg|pdf");
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
