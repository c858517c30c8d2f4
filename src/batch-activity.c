#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "batch-private.h"
#include "tpt-job-activity.h"
#include "tpt-number.h"
#include "tpt-words.h"

/* What both commands take besides filters. */
typedef struct {
  gboolean by_sun;
  gint64 points;
  gint64 boot;
  gint64 seed;
} Detail;

static gboolean
read_count (const char *text, const char *option, gint64 least, gint64 most, gint64 *value, GError **error)
{
  if (text == NULL || tpt_number_parse_integer (text, least, most, value, NULL))
    return TRUE;
  g_set_error (error, TPT_ERROR, TPT_ERROR_USAGE, _("%1$s is a whole number from %2$ld to %3$ld, not “%4$s”"), option,
               (long) least, (long) most, text);
  return FALSE;
}

static gboolean
read_detail (BatchOptions *options, Detail *detail, GError **error)
{
  *detail = (Detail){ FALSE, TPT_ACTIVITY_POINTS, TPT_ACTIVITY_BOOT, TPT_ACTIVITY_SEED };
  return batch_by_sun (options, &detail->by_sun, error) &&
         read_count (options->points, "--points", TPT_ACTIVITY_POINTS_LEAST, TPT_ACTIVITY_POINTS_MOST, &detail->points,
                     error) &&
         read_count (options->boot, "--boot", 0, TPT_ACTIVITY_BOOT_MOST, &detail->boot, error) &&
         read_count (options->seed, "--seed", 0, G_MAXINT64, &detail->seed, error);
}

static TptJobActivity *
make_job (const TptFilter *filter, const Detail *detail)
{
  TptJobActivity *job = tpt_job_activity_new (filter, detail->by_sun);

  tpt_job_activity_set_detail (job, (guint) detail->points, (guint) detail->boot);
  tpt_job_activity_set_seed (job, (guint64) detail->seed);
  return job;
}

/* null without values. */
static void
add_reals (JsonBuilder *builder, const char *name, const double *values, guint n)
{
  json_builder_set_member_name (builder, name);
  if (values == NULL)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_array (builder);
  for (guint i = 0; i < n; i++)
    json_builder_add_double_value (builder, values[i]);
  json_builder_end_array (builder);
}

static void
add_hours (JsonBuilder *builder, const TptActivity *activity)
{
  json_builder_set_member_name (builder, "hours");
  json_builder_begin_array (builder);
  for (guint i = 0; i < activity->n_points; i++)
    json_builder_add_double_value (builder, 24.0 * i / activity->n_points);
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "by_hour");
  json_builder_begin_array (builder);
  for (guint i = 0; i < G_N_ELEMENTS (activity->by_hour); i++)
    json_builder_add_int_value (builder, activity->by_hour[i]);
  json_builder_end_array (builder);
}

static void
add_shares (JsonBuilder *builder, const TptActivity *activity)
{
  json_builder_set_member_name (builder, "shares");
  json_builder_begin_object (builder);
  batch_add_real (builder, "day", activity->day.share);
  batch_add_real (builder, "twilight", activity->twilight.share);
  batch_add_real (builder, "night", activity->night.share);
  json_builder_end_object (builder);
  json_builder_set_member_name (builder, "shares_ci95");
  json_builder_begin_object (builder);
  batch_add_pair (builder, "day", activity->day.low, activity->day.high);
  batch_add_pair (builder, "twilight", activity->twilight.low, activity->twilight.high);
  batch_add_pair (builder, "night", activity->night.low, activity->night.high);
  json_builder_end_object (builder);
  batch_add_count (builder, "n_light", activity->n_light);
}

static const char *
name_band (gboolean known, guint boot)
{
  return !known ? NULL : boot > 0 ? "resampled" : "standard-error";
}

static void
add_detail (JsonBuilder *builder, const Detail *detail)
{
  batch_add_text (builder, "clock", detail->by_sun ? "sun" : "local");
  batch_add_count (builder, "seed", detail->seed);
}

static int
print_activity_json (const TptActivity *activity, const Detail *detail)
{
  JsonBuilder *builder = json_builder_new ();
  guint n = activity->n_points;

  json_builder_begin_object (builder);
  batch_add_text (builder, "label", activity->label);
  batch_add_count (builder, "n", activity->n);
  batch_add_count (builder, "n_without", activity->n_without);
  batch_add_real (builder, "kappa", activity->kappa);
  batch_add_real (builder, "mean_hour", activity->mean_hour);
  batch_add_real (builder, "r", activity->r);
  batch_add_real (builder, "rayleigh_p", activity->rayleigh_p);
  batch_add_real (builder, "activity_level", activity->level);
  batch_add_real (builder, "peak_hour", activity->peak_hour);
  add_hours (builder, activity);
  add_reals (builder, "density", activity->density, n);
  add_reals (builder, "band_low", activity->low, n);
  add_reals (builder, "band_high", activity->high, n);
  batch_add_text (builder, "band", name_band (activity->low != NULL, activity->boot));
  batch_add_count (builder, "boot", activity->boot);
  add_shares (builder, activity);
  add_detail (builder, detail);
  batch_add_text (builder, "why", activity->why_not);
  json_builder_end_object (builder);
  batch_print_json (builder);
  return BATCH_DONE;
}

static void
add_clock_row (BatchTable *table, const char *what, double hour)
{
  g_autofree char *text = isnan (hour) ? NULL : tpt_words_hour (hour);

  batch_table_add (table, what);
  batch_table_add (table, text);
}

static void
add_real_row (BatchTable *table, const char *what, double value, int decimals)
{
  batch_table_add (table, what);
  batch_table_add_real (table, value, decimals);
}

static void
add_chance_row (BatchTable *table, const char *what, double p)
{
  if (!(p < 0.0001))
    {
      add_real_row (table, what, p, 4);
      return;
    }
  batch_table_add (table, what);
  batch_table_add (table, "<0.0001");
}

static void
print_numbers (const TptActivity *activity)
{
  BatchTable *table = batch_table_new (_("of the hours"), _(">value"), NULL);

  add_clock_row (table, _("mean hour"), activity->mean_hour);
  add_real_row (table, _("mean resultant length, 0 any hour to 1 one hour"), activity->r, 3);
  add_chance_row (table, _("Rayleigh’s p, of no hour being preferred"), activity->rayleigh_p);
  add_clock_row (table, _("highest point of the curve"), activity->peak_hour);
  add_real_row (table, _("activity level, part of the day spent active"), activity->level, 3);
  add_real_row (table, _("concentration of the kernel"), activity->kappa, 2);
  batch_table_print (table);
}

/* The curve in the middle of an hour, in percent; NAN without one. */
static double
read_curve (const TptActivity *activity, const double *values, guint hour)
{
  double place = (hour + 0.5) / 24 * activity->n_points, part = place - floor (place);
  guint before = (guint) place;

  if (values == NULL)
    return NAN;
  return 100 * ((1 - part) * values[before % activity->n_points] + part * values[(before + 1) % activity->n_points]);
}

static void
print_hours (const TptActivity *activity)
{
  BatchTable *table =
    batch_table_new (_(">from"), _(">detections"), _(">curve, % an hour"), _(">low"), _(">high"), NULL);

  for (guint i = 0; i < G_N_ELEMENTS (activity->by_hour); i++)
    {
      g_autofree char *hour = g_strdup_printf ("%02u:00", i);

      batch_table_add (table, hour);
      batch_table_add_count (table, activity->by_hour[i]);
      batch_table_add_real (table, read_curve (activity, activity->density, i), 2);
      batch_table_add_real (table, read_curve (activity, activity->low, i), 2);
      batch_table_add_real (table, read_curve (activity, activity->high, i), 2);
    }
  batch_table_print (table);
}

static int
print_activity (TptJobActivity *job)
{
  const TptActivity *activity = tpt_job_activity_get (job, 0);

  printf ("%s\n\n", tpt_job_activity_get_sentence (job));
  print_numbers (activity);
  printf ("\n");
  print_hours (activity);
  printf ("\n%s\n", tpt_job_activity_get_method (job));
  return BATCH_DONE;
}

int
batch_activity (BatchOptions *options)
{
  Detail detail;
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobActivity) job = NULL;
  GError *error = NULL;

  if (options->species == NULL)
    {
      g_printerr ("%s", _("Which species? Use --species NAME.\n"));
      return BATCH_USAGE;
    }
  if (!read_detail (options, &detail, &error))
    return batch_fail (error);
  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL)
    return batch_fail (error);
  job = make_job (filter, &detail);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  return options->json ? print_activity_json (tpt_job_activity_get (job, 0), &detail) : print_activity (job);
}

static int
print_overlap_json (TptJobActivity *job, const Detail *detail)
{
  const TptActivity *a = tpt_job_activity_get (job, 0), *b = tpt_job_activity_get (job, 1);
  const TptOverlap *overlap = tpt_job_activity_get_overlap (job);
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "labels");
  json_builder_begin_array (builder);
  json_builder_add_string_value (builder, a->label);
  json_builder_add_string_value (builder, b->label);
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "n");
  json_builder_begin_array (builder);
  json_builder_add_int_value (builder, a->n);
  json_builder_add_int_value (builder, b->n);
  json_builder_end_array (builder);
  batch_add_text (builder, "estimator", overlap->estimator);
  batch_add_real (builder, "value", overlap->value);
  batch_add_pair (builder, "ci95", overlap->low, overlap->high);
  batch_add_text (builder, "interval", name_band (!isnan (overlap->low), overlap->boot));
  batch_add_count (builder, "boot", overlap->boot);
  batch_add_real (builder, "watson_u2", overlap->watson_u2);
  batch_add_real (builder, "watson_p", overlap->watson_p);
  batch_add_pair (builder, "mean_hours", a->mean_hour, b->mean_hour);
  batch_add_pair (builder, "peak_hours", a->peak_hour, b->peak_hour);
  batch_add_pair (builder, "kappa", a->kappa, b->kappa);
  add_detail (builder, detail);
  batch_add_text (builder, "why", overlap->why_not);
  json_builder_end_object (builder);
  batch_print_json (builder);
  return BATCH_DONE;
}

/* The two side by side, hour by hour, in percent of each. */
static void
print_both (const TptActivity *a, const TptActivity *b)
{
  g_autofree char *first = g_strconcat (">", a->label, NULL), *second = g_strconcat (">", b->label, NULL);
  BatchTable *table = batch_table_new (_(">from"), first, _(">curve, % an hour"), second, _(">curve, % an hour"), NULL);

  for (guint i = 0; i < G_N_ELEMENTS (a->by_hour); i++)
    {
      g_autofree char *hour = g_strdup_printf ("%02u:00", i);

      batch_table_add (table, hour);
      batch_table_add_count (table, a->by_hour[i]);
      batch_table_add_real (table, read_curve (a, a->density, i), 2);
      batch_table_add_count (table, b->by_hour[i]);
      batch_table_add_real (table, read_curve (b, b->density, i), 2);
    }
  batch_table_print (table);
}

static int
print_overlap (TptJobActivity *job)
{
  const TptOverlap *overlap = tpt_job_activity_get_overlap (job);
  BatchTable *table = batch_table_new (_("of the two"), _(">value"), _(">low"), _(">high"), NULL);

  printf ("%s\n\n", tpt_job_activity_get_sentence (job));
  add_real_row (table, g_str_equal (overlap->estimator, "d1") ? _("overlap, Δ1") : _("overlap, Δ4"),
                overlap->value, 3);
  batch_table_add_real (table, overlap->low, 3);
  batch_table_add_real (table, overlap->high, 3);
  add_real_row (table, _("Watson’s U²"), overlap->watson_u2, 4);
  batch_table_add (table, NULL);
  batch_table_add (table, NULL);
  add_chance_row (table, _("p, of the same hours"), overlap->watson_p);
  batch_table_add (table, NULL);
  batch_table_add (table, NULL);
  batch_table_print (table);
  printf ("\n");
  print_both (tpt_job_activity_get (job, 0), tpt_job_activity_get (job, 1));
  printf ("\n%s\n", tpt_job_activity_get_method (job));
  return BATCH_DONE;
}

static gboolean
refuse_overlap (const char *why)
{
  g_printerr ("%s\n", why);
  return FALSE;
}

static gboolean
check_overlap (BatchOptions *options)
{
  guint n = options->species != NULL ? g_strv_length (options->species) : 0;
  gboolean periods = options->against_from != NULL || options->against_to != NULL;

  if (n == 2 && periods)
    return refuse_overlap (_("Either two species or one in two periods: not both."));
  if (n == 1 && !periods)
    return refuse_overlap (_("Overlap with what? Name another --species, or another period with --against-from and "
                             "--against-to."));
  if (n != 1 && n != 2)
    return refuse_overlap (_("Overlap of which species? Use --species NAME twice, or once with --against-from and "
                             "--against-to."));
  return TRUE;
}

static void
keep_species (TptFilter *filter, const char *name)
{
  g_strfreev (filter->species);
  filter->species = g_new0 (char *, 2);
  filter->species[0] = g_strdup (name);
}

/* (transfer full): what to compare with; @filter keeps the first species. */
static TptFilter *
make_other (BatchOptions *options, TptFilter *filter, TptZone *zone, GError **error)
{
  g_autoptr (TptFilter) other = tpt_filter_copy (filter);

  keep_species (filter, options->species[0]);
  if (options->species[1] != NULL)
    keep_species (other, options->species[1]);
  else if (!batch_period (options->against_from, options->against_to, zone, &other->range, error))
    return NULL;
  return g_steal_pointer (&other);
}

int
batch_overlap (BatchOptions *options)
{
  Detail detail;
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL, other = NULL;
  g_autoptr (TptJobActivity) job = NULL;
  GError *error = NULL;

  if (!check_overlap (options))
    return BATCH_USAGE;
  if (!read_detail (options, &detail, &error))
    return batch_fail (error);
  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  other = filter != NULL ? make_other (options, filter, tpt_project_get_zone (project), &error) : NULL;
  if (other == NULL)
    return batch_fail (error);
  job = make_job (filter, &detail);
  tpt_job_activity_compare (job, other);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  return options->json ? print_overlap_json (job, &detail) : print_overlap (job);
}
