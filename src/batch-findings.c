#include "config.h"

#include <glib/gi18n.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-findings.h"
#include "tpt-job-groups.h"
#include "tpt-job-months.h"

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
add_rates (JsonBuilder *builder, GListModel *species, const TptFilter *filter)
{
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
table_rates (BatchTable *table, GListModel *species, const TptFilter *filter, const char *group)
{
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

/* Of the species of the filter together. */
static void
add_trend (JsonBuilder *builder, const TptTrend *trend)
{
  json_builder_set_member_name (builder, "trend");
  json_builder_begin_object (builder);
  batch_add_real (builder, "per_year", trend->per_year);
  batch_add_pair (builder, "ci95", trend->low, trend->high);
  batch_add_real (builder, "p", trend->p);
  batch_add_real (builder, "dispersion", trend->dispersion);
  batch_add_count (builder, "months", trend->months);
  batch_add_flag (builder, "seasonal", trend->seasonal);
  batch_add_text (builder, "reason", trend->why_not);
  json_builder_end_object (builder);
}

/* @months (nullable): what is said below the months. */
static int
print_groups_table (TptJobGroups *job, TptJobMonths *months, const TptFilter *filter)
{
  BatchTable *table =
    batch_table_new (_("group"), _("species"), _(">detections"), _(">animals"), _(">stations"), _(">trap nights"),
                     _(">per 100"), _(">from"), _(">to"), NULL);

  for (guint i = 0; i < tpt_job_groups_get_n (job); i++)
    table_rates (table, tpt_job_groups_get_species (job, i), filter, tpt_job_groups_get_name (job, i));
  batch_table_print (table);
  if (months != NULL)
    printf ("\n%s\n", tpt_job_months_get_sentence (months));
  return BATCH_DONE;
}

static int
print_groups_json (TptJobGroups *job, TptJobMonths *months, const TptFilter *filter)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "groups");
  json_builder_begin_array (builder);
  for (guint i = 0; i < tpt_job_groups_get_n (job); i++)
    {
      json_builder_begin_object (builder);
      batch_add_text (builder, "group", tpt_job_groups_get_name (job, i));
      add_rates (builder, tpt_job_groups_get_species (job, i), filter);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  if (months != NULL)
    add_trend (builder, tpt_job_months_get_trend (months, 0));
  json_builder_end_object (builder);
  batch_print_json (builder);
  return BATCH_DONE;
}

/* The trend comes from the same months, counted on the same pass. */
static int
print_groups (BatchOptions *options, TptProject *project, const TptFilter *filter, TptGroupsBy by)
{
  g_autoptr (TptJobGroups) job = tpt_job_groups_new (filter, by);
  g_autoptr (TptJobMonths) months = by == TPT_GROUPS_BY_MONTH ? tpt_job_months_new (filter) : NULL;
  GError *error = NULL;

  if (!tpt_project_run (project, TPT_JOB (job), NULL, &error) ||
      (months != NULL && !tpt_project_run (project, TPT_JOB (months), NULL, &error)))
    return batch_fail (error);
  return options->json ? print_groups_json (job, months, filter) : print_groups_table (job, months, filter);
}

static int
print_rates (BatchOptions *options, TptJobFindings *job, const TptFilter *filter)
{
  BatchTable *table;

  if (options->json)
    {
      JsonBuilder *builder = json_builder_new ();

      json_builder_begin_object (builder);
      add_rates (builder, tpt_job_findings_get_species (job), filter);
      json_builder_end_object (builder);
      batch_print_json (builder);
      return BATCH_DONE;
    }
  printf ("%s\n\n", tpt_job_findings_get_sentence (job));
  table = batch_table_new (_("species"), _(">detections"), _(">animals"), _(">stations"), _(">trap nights"), _(">per 100"),
                           _(">from"), _(">to"), NULL);
  table_rates (table, tpt_job_findings_get_species (job), filter, NULL);
  batch_table_print (table);
  return BATCH_DONE;
}

int
batch_rates (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobFindings) job = NULL;
  TptGroupsBy by = TPT_GROUPS_BY_MONTH;
  GError *error = NULL;

  if (options->blanks)
    return batch_blanks (options);
  if (options->by != NULL && !tpt_groups_by_parse (options->by, &by))
    {
      g_printerr (_("--by is “month” or “station”, not “%s”.\n"), options->by);
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL)
    return batch_fail (error);
  if (options->by != NULL)
    return print_groups (options, project, filter, by);
  job = tpt_job_findings_new (filter);
  tpt_job_findings_leave_strip (job);
  if (!tpt_project_run (project, TPT_JOB (job), NULL, &error))
    return batch_fail (error);
  return print_rates (options, job, filter);
}
