#include "config.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "batch-private.h"
#include "tpt-job-false-triggers.h"
#include "tpt-job-lives.h"

static void
add_curve (JsonBuilder *builder, const TptLifeGroup *group)
{
  json_builder_set_member_name (builder, "curve");
  json_builder_begin_array (builder);
  for (guint i = 0; i < group->steps->len; i++)
    {
      const TptLivesStep *step = &g_array_index (group->steps, TptLivesStep, i);

      json_builder_begin_object (builder);
      batch_add_real (builder, "days", step->days);
      batch_add_count (builder, "at_risk", step->at_risk);
      batch_add_count (builder, "failures", step->failures);
      batch_add_real (builder, "survival", step->survival);
      batch_add_real (builder, "low", step->low);
      batch_add_real (builder, "high", step->high);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_life_group (JsonBuilder *builder, const TptLifeGroup *group)
{
  json_builder_begin_object (builder);
  batch_add_text (builder, "group", group->group);
  batch_add_count (builder, "n", group->n);
  batch_add_count (builder, "failures", group->failures);
  batch_add_real (builder, "unit_days", group->unit_days);
  batch_add_real (builder, "mtbf_days", group->mtbf);
  batch_add_pair (builder, "mtbf_ci95", group->mtbf_low, group->mtbf_high);
  batch_add_text (builder, "reason", group->reason);
  add_curve (builder, group);
  batch_add_real (builder, "median_days", group->median);
  batch_add_pair (builder, "median_ci95", group->median_low, group->median_high);
  batch_add_real (builder, "mean_days", group->mean);
  batch_add_real (builder, "mean_se", group->mean_error);
  batch_add_real (builder, "mean_to_days", group->mean_to);
  json_builder_end_object (builder);
}

static void
print_lives_json (TptJobLives *job, const char *by)
{
  GPtrArray *groups = tpt_job_lives_get_groups (job);
  const TptLifeTest *test = tpt_job_lives_get_test (job);
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_text (builder, "by", by);
  batch_add_text (builder, "limits", "log");
  batch_add_count (builder, "n", tpt_job_lives_get_n (job));
  batch_add_count (builder, "failures", tpt_job_lives_get_failures (job));
  json_builder_set_member_name (builder, "groups");
  json_builder_begin_array (builder);
  for (guint i = 0; i < groups->len; i++)
    add_life_group (builder, groups->pdata[i]);
  json_builder_end_array (builder);
  batch_add_real (builder, "logrank_p", test->p);
  batch_add_real (builder, "logrank_chi2", test->chi2);
  batch_add_count (builder, "logrank_df", test->df);
  batch_add_text (builder, "logrank_words", test->words);
  batch_add_count (builder, "left_out", tpt_job_lives_get_left_out (job));
  batch_add_text (builder, "left_out_words", tpt_job_lives_get_left_out_words (job));
  json_builder_end_object (builder);
  batch_print_json (builder);
}

/* Half a number of days says nothing. */
static void
add_median (BatchTable *table, const TptLifeGroup *group)
{
  g_autofree char *more = isnan (group->median) && group->reason == NULL
                            ? g_strdup_printf (_("over %.0f"), floor (group->mean_to)) : NULL;

  if (more != NULL)
    batch_table_add (table, more);
  else
    batch_table_add_real (table, group->median, 0);
  batch_table_add_real (table, group->median_low, 0);
  batch_table_add_real (table, group->median_high, 0);
}

static void
add_at_year (BatchTable *table, const TptLifeGroup *group)
{
  const TptLivesStep *last = NULL;

  if (group->reason != NULL || group->mean_to < 365)
    {
      batch_table_add (table, NULL);
      return;
    }
  for (guint i = 0; i < group->steps->len && g_array_index (group->steps, TptLivesStep, i).days <= 365; i++)
    last = &g_array_index (group->steps, TptLivesStep, i);
  batch_table_add_real (table, last != NULL ? 100 * last->survival : 100, 0);
}

static void
print_lives (TptJobLives *job)
{
  GPtrArray *groups = tpt_job_lives_get_groups (job);
  BatchTable *table = batch_table_new (_("group"), _(">units"), _(">failed"), _(">days at work"), _(">% after a year"),
                                       _(">median days"), _(">from"), _(">to"), _("remark"), NULL);

  printf ("%s\n\n", tpt_job_lives_get_sentence (job));
  for (guint i = 0; i < groups->len; i++)
    {
      const TptLifeGroup *group = groups->pdata[i];

      batch_table_add (table, group->label);
      batch_table_add_count (table, group->n);
      batch_table_add_count (table, group->failures);
      batch_table_add_real (table, group->unit_days, 0);
      add_at_year (table, group);
      add_median (table, group);
      batch_table_add (table, group->reason != NULL ? group->reason : "");
    }
  batch_table_print (table);
  printf ("\n%s\n", tpt_job_lives_get_test (job)->words);
  if (*tpt_job_lives_get_left_out_words (job) != '\0')
    printf ("%s\n", tpt_job_lives_get_left_out_words (job));
}

int
batch_lives (BatchOptions *options)
{
  const char *word = options->by != NULL ? options->by : "kind";
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptJobLives) job = NULL;
  TptLivesBy by;
  GError *error = NULL;

  if (!tpt_lives_by_parse (word, &by))
    {
      g_printerr (_("--by is “kind”, “housing”, “cause” or “model”, not “%s”.\n"), word);
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  if (project == NULL)
    return batch_fail (error);
  job = tpt_job_lives_new (by);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_lives_json (job, word);
  else
    print_lives (job);
  return BATCH_DONE;
}

static void
add_shares (JsonBuilder *builder, const char *name, const char *key, GPtrArray *shares)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; i < shares->len; i++)
    {
      const TptBlankShare *share = shares->pdata[i];

      json_builder_begin_object (builder);
      batch_add_text (builder, key, share->code);
      batch_add_count (builder, "triggers", share->triggers);
      batch_add_count (builder, "blank", share->blank);
      batch_add_real (builder, "share", share->share);
      batch_add_pair (builder, "ci95", share->low, share->high);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_difference (JsonBuilder *builder, const TptBlankDifference *difference)
{
  json_builder_set_member_name (builder, "difference");
  if (isnan (difference->difference))
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_object (builder);
  batch_add_text (builder, "of", "passive-infrared");
  batch_add_text (builder, "less", "active-beam");
  batch_add_real (builder, "share", difference->difference);
  batch_add_pair (builder, "ci95", difference->low, difference->high);
  json_builder_end_object (builder);
}

static void
print_blanks_json (TptJobFalseTriggers *job)
{
  const TptBlankShare *all = tpt_job_false_triggers_get_all (job);
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);
  batch_add_count (builder, "triggers", all->triggers);
  batch_add_count (builder, "blank", all->blank);
  batch_add_real (builder, "share", all->share);
  batch_add_pair (builder, "ci95", all->low, all->high);
  batch_add_count (builder, "undecided", tpt_job_false_triggers_get_undecided (job));
  add_shares (builder, "sensors", "sensor", tpt_job_false_triggers_get_sensors (job));
  add_shares (builder, "stations", "station", tpt_job_false_triggers_get_stations (job));
  add_difference (builder, tpt_job_false_triggers_get_difference (job));
  json_builder_end_object (builder);
  batch_print_json (builder);
}

static void
add_share_row (BatchTable *table, const TptBlankShare *share, const TptBlankShare *all)
{
  batch_table_add (table, share->label);
  batch_table_add_count (table, share->triggers);
  batch_table_add_count (table, share->blank);
  batch_table_add_real (table, 100 * share->share, 0);
  batch_table_add_real (table, 100 * share->low, 0);
  batch_table_add_real (table, 100 * share->high, 0);
  batch_table_add (table, tpt_blank_share_is_high (share, all) ? _("more than elsewhere") : "");
}

static void
print_difference (const TptBlankDifference *difference)
{
  if (isnan (difference->difference))
    printf ("%s\n", _("Passive sensors and active beams cannot be compared: there are not decided triggers of both."));
  else
    printf (_("Passive infrared less active beam: %.0f percentage points (%.0f to %.0f).\n"), 100 * difference->difference,
            100 * difference->low, 100 * difference->high);
}

static void
print_undecided (gint64 n)
{
  g_autofree char *words = NULL;

  if (n == 0)
    return;
  words = g_strdup_printf (ngettext ("%" G_GINT64_FORMAT " trigger is not decided yet and not counted.",
                                     "%" G_GINT64_FORMAT " triggers are not decided yet and not counted.", (gulong) n), n);
  printf ("%s\n", words);
}

static void
print_blanks (TptJobFalseTriggers *job)
{
  const TptBlankShare *all = tpt_job_false_triggers_get_all (job);
  GPtrArray *sensors = tpt_job_false_triggers_get_sensors (job), *stations = tpt_job_false_triggers_get_stations (job);
  g_autofree char *sentence = tpt_blank_share_describe (all);
  BatchTable *table = batch_table_new (_("sensor or station"), _(">triggers"), _(">blank"), _(">%"), _(">from"), _(">to"),
                                       _("remark"), NULL);

  printf ("%s.\n", sentence);
  print_undecided (tpt_job_false_triggers_get_undecided (job));
  putchar ('\n');
  for (guint i = 0; i < sensors->len; i++)
    add_share_row (table, sensors->pdata[i], all);
  for (guint i = 0; i < stations->len; i++)
    add_share_row (table, stations->pdata[i], all);
  batch_table_print (table);
  putchar ('\n');
  print_difference (tpt_job_false_triggers_get_difference (job));
}

/* What has no bearing on triggers is refused, not passed over. */
static const char *
find_misfit (const BatchOptions *options)
{
  return options->by != NULL             ? "--by"
         : options->species != NULL      ? "--species"
         : options->independence != NULL ? "--independence"
         : options->gap_from != NULL     ? "--gap-from"
                                         : NULL;
}

int
batch_blanks (BatchOptions *options)
{
  const char *misfit = find_misfit (options);
  g_autoptr (TptProject) project = NULL;
  g_autoptr (TptFilter) filter = NULL;
  g_autoptr (TptJobFalseTriggers) job = NULL;
  GError *error = NULL;

  if (misfit != NULL)
    {
      g_printerr (_("--blanks does not go with %s.\n"), misfit);
      return BATCH_USAGE;
    }
  project = batch_open (options, &error);
  filter = project != NULL ? batch_filter (options, tpt_project_get_zone (project), &error) : NULL;
  if (filter == NULL)
    return batch_fail (error);
  job = tpt_job_false_triggers_new (filter);
  if (!batch_run (project, TPT_JOB (job), &error))
    return batch_fail (error);
  if (options->json)
    print_blanks_json (job);
  else
    print_blanks (job);
  return BATCH_DONE;
}
