#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "batch-private.h"
#include "tpt-job-occupancy.h"
#include "tpt-job-richness.h"
#include "tpt-number.h"

#define MOST_DAYS 3660

/* Longer histories make no lines to read. */
#define MOST_LETTERS 100

static void
add_histories (JsonBuilder *builder, GPtrArray *histories)
{
  json_builder_set_member_name (builder, "histories");
  json_builder_begin_array (builder);
  for (guint i = 0; i < histories->len; i++)
    {
      const TptHistory *history = histories->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, "station", history->station);
      batch_add_text (builder, "history", history->occasions);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_occupancy (JsonBuilder *builder, const TptOccupancy *o, TptZone *zone)
{
  batch_add_count (builder, "sites", o->sites);
  batch_add_count (builder, "occasions", o->occasions);
  batch_add_count (builder, "visits", o->visits);
  batch_add_count (builder, "sites_detected", o->sites_detected);
  batch_add_count (builder, "detections", o->detections);
  batch_add_count (builder, "left_out", o->left_out);
  batch_add_instant (builder, "from", o->period.from, zone);
  batch_add_instant (builder, "to", o->period.to, zone);
  batch_add_real (builder, "naive", o->naive);
  batch_add_real (builder, "psi", o->psi);
  batch_add_real (builder, "psi_se", o->psi_se);
  batch_add_pair (builder, "psi_ci95", o->psi_low, o->psi_high);
  batch_add_real (builder, "p", o->p);
  batch_add_real (builder, "p_se", o->p_se);
  batch_add_pair (builder, "p_ci95", o->p_low, o->p_high);
  batch_add_real (builder, "loglik", o->loglik);
  batch_add_real (builder, "aic", o->aic);
  batch_add_flag (builder, "boundary", o->boundary);
  batch_add_real (builder, "missed", o->missed);
  batch_add_real (builder, "needed", o->needed);
  batch_add_text (builder, "reason", o->why_not);
}

static void
print_occupancy_json (TptJobOccupancy *job, const char *species, int days, TptZone *zone)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_text (builder, "species", species);
  batch_add_count (builder, "occasion_days", days);
  add_occupancy (builder, tpt_job_occupancy_get (job), zone);
  add_histories (builder, tpt_job_occupancy_get_histories (job));
  json_builder_end_object (builder);
  batch_print_json (builder);
}

/* Estimate, standard error and limits; "-" for what is not known. */
static void
add_estimate (BatchTable *table, const char *what, const double values[4])
{
  batch_table_add (table, what);
  for (gsize i = 0; i < 4; i++)
    batch_table_add_real (table, values[i], 3);
}

static void
print_estimates (const TptOccupancy *o)
{
  BatchTable *table = batch_table_new (_("estimate"), _(">value"), _(">standard error"), _(">from"), _(">to"), NULL);

  add_estimate (table, _("psi, share of stations it is at"), (double[]){ o->psi, o->psi_se, o->psi_low, o->psi_high });
  add_estimate (table, _("p, chance to see it there in an occasion"), (double[]){ o->p, o->p_se, o->p_low, o->p_high });
  batch_table_print (table);
  printf ("\n");
  if (isfinite (o->missed) && o->sites_detected < o->sites)
    printf (_("A station that worked in all occasions without it has it with a chance of %.3f.\n"), o->missed);
  if (isfinite (o->needed))
    printf (_("To see it with 95 %% where it is takes %.0f occasions.\n"), o->needed);
  printf (_("Log likelihood %.4f, AIC %.4f.\n"), o->loglik, o->aic);
}

static void
print_histories (GPtrArray *histories)
{
  BatchTable *table;
  const TptHistory *first = histories->len > 0 ? histories->pdata[0] : NULL;

  if (first == NULL || strlen (first->occasions) > MOST_LETTERS)
    return;
  printf ("\n");
  table = batch_table_new (_("station"), _("occasions: 1 detected, 0 not, . missing"), NULL);
  for (guint i = 0; i < histories->len; i++)
    {
      const TptHistory *history = histories->pdata[i];

      batch_table_add (table, history->station);
      batch_table_add (table, history->occasions);
    }
  batch_table_print (table);
}

static void
print_occupancy (TptJobOccupancy *job)
{
  const TptOccupancy *o = tpt_job_occupancy_get (job);

  printf ("%s\n", tpt_job_occupancy_get_sentence (job));
  if (o->why_not != NULL)
    printf ("%s\n", o->why_not);
  printf ("%s\n\n", tpt_job_occupancy_get_method (job));
  if (!isnan (o->psi))
    print_estimates (o);
  if (o->left_out > 0)
    printf (g_dngettext (GETTEXT_PACKAGE, "%u record in an occasion that is missing at its station does not count.\n",
                         "%u records in occasions that are missing at their station do not count.\n", o->left_out),
            o->left_out);
  print_histories (tpt_job_occupancy_get_histories (job));
}

static gboolean
read_days (BatchOptions *options, int *days, GError **error)
{
  gint64 value;

  *days = TPT_OCCASION_DAYS;
  if (options->occasion_days == NULL)
    return TRUE;
  if (!tpt_number_parse_integer (options->occasion_days, 1, MOST_DAYS, &value, NULL))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE,
                   _("--occasion-days is a whole number of days from 1 to %d, not “%s”"), MOST_DAYS,
                   options->occasion_days);
      return FALSE;
    }
  *days = (int) value;
  return TRUE;
}

int
batch_occupancy (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobOccupancy) job = NULL;
  GError *error = NULL;
  int days;

  if (options->species == NULL)
    {
      g_printerr ("%s", _("Which species? Use --species NAME.\n"));
      return BATCH_USAGE;
    }
  if (!read_days (options, &days, &error))
    return batch_fail (error);
  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL)
    return batch_fail (error);
  job = tpt_job_occupancy_new (filter, days);
  if (!tpt_project_run (project, TPT_JOB (job), NULL, &error))
    return batch_fail (error);
  if (options->json)
    print_occupancy_json (job, options->species[0], days, tpt_project_get_zone (project));
  else
    print_occupancy (job);
  return BATCH_DONE;
}

static void
add_curve (JsonBuilder *builder, const TptRichness *r)
{
  json_builder_set_member_name (builder, "curve");
  json_builder_begin_array (builder);
  for (guint i = 0; i < r->stations; i++)
    {
      json_builder_begin_object (builder);
      batch_add_count (builder, "n", i + 1);
      batch_add_real (builder, "mean", r->mean[i]);
      batch_add_real (builder, "sd", r->sd[i]);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_hill (JsonBuilder *builder, const TptRichness *r)
{
  json_builder_set_member_name (builder, "hill");
  json_builder_begin_array (builder);
  for (gsize q = 0; q < 3; q++)
    if (isfinite (r->hill[q]))
      json_builder_add_double_value (builder, r->hill[q]);
    else
      json_builder_add_null_value (builder);
  json_builder_end_array (builder);
}

static void
print_richness_json (const TptRichness *r)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_count (builder, "stations", r->stations);
  batch_add_real (builder, "nights", r->nights);
  batch_add_count (builder, "observed", r->observed);
  batch_add_count (builder, "incidences", r->incidences);
  batch_add_count (builder, "uniques", r->uniques);
  batch_add_count (builder, "duplicates", r->duplicates);
  add_curve (builder, r);
  batch_add_real (builder, "chao2", r->chao2);
  batch_add_real (builder, "chao2_se", r->chao2_se);
  batch_add_pair (builder, "chao2_ci95", r->chao2_low, r->chao2_high);
  batch_add_real (builder, "jack1", r->jack1);
  batch_add_real (builder, "jack1_se", r->jack1_se);
  batch_add_real (builder, "jack2", r->jack2);
  batch_add_real (builder, "boot", r->boot);
  batch_add_real (builder, "boot_se", r->boot_se);
  add_hill (builder, r);
  batch_add_real (builder, "coverage", r->coverage);
  batch_add_real (builder, "more_stations", r->more);
  batch_add_text (builder, "reason", r->why_not);
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
print_curve (const TptRichness *r)
{
  BatchTable *table = batch_table_new (_(">stations"), _(">species, mean"), _(">standard deviation"), NULL);

  for (guint i = 0; i < r->stations; i++)
    {
      batch_table_add_count (table, i + 1);
      batch_table_add_real (table, r->mean[i], 2);
      batch_table_add_real (table, r->sd[i], 2);
    }
  batch_table_print (table);
}

static void
add_total (BatchTable *table, const char *what, double value, double error)
{
  batch_table_add (table, what);
  batch_table_add_real (table, value, 1);
  batch_table_add_real (table, error, 1);
}

static void
print_totals (const TptRichness *r)
{
  BatchTable *table = batch_table_new (_("species in all, estimated by"), _(">value"), _(">standard error"), NULL);

  add_total (table, _("Chao2"), r->chao2, r->chao2_se);
  add_total (table, _("jackknife of first order"), r->jack1, r->jack1_se);
  add_total (table, _("jackknife of second order"), r->jack2, NAN);
  add_total (table, _("bootstrap"), r->boot, r->boot_se);
  batch_table_print (table);
  printf (_("\nAs many species, were all as common (Hill numbers of order 0, 1, 2): %.1f, %.1f, %.1f.\n\n"),
          r->hill[0], r->hill[1], r->hill[2]);
}

static void
print_richness (TptJobRichness *job)
{
  const TptRichness *r = tpt_job_richness_get (job);

  printf ("%s\n", tpt_job_richness_get_sentence (job));
  if (r->why_not != NULL)
    printf ("%s\n", r->why_not);
  printf ("%s\n\n", tpt_job_richness_get_method (job));
  if (isfinite (r->chao2))
    print_totals (r);
  if (r->observed > 0)
    print_curve (r);
}

int
batch_richness (BatchOptions *options)
{
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobRichness) job = NULL;
  GError *error = NULL;

  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL)
    return batch_fail (error);
  job = tpt_job_richness_new (filter);
  if (!tpt_project_run (project, TPT_JOB (job), NULL, &error))
    return batch_fail (error);
  if (options->json)
    print_richness_json (tpt_job_richness_get (job));
  else
    print_richness (job);
  return BATCH_DONE;
}
