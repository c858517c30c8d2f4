#include "config.h"

#include "tpt-unit-lives-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "sci-survival.h"
#include "tpt-words.h"

#define LEVEL 0.95

static void
free_group (gpointer data)
{
  TptLifeGroup *group = data;

  g_free (group->group);
  g_free (group->label);
  g_free (group->reason);
  g_array_unref (group->steps);
  g_array_unref (group->ends);
  g_free (group);
}

/* Takes @code and @label. */
static TptLifeGroup *
add_group (GPtrArray *groups, char *code, char *label)
{
  TptLifeGroup *group = g_new0 (TptLifeGroup, 1);

  group->group = code;
  group->label = label;
  group->steps = g_array_new (FALSE, FALSE, sizeof (TptLivesStep));
  group->ends = g_array_new (FALSE, FALSE, sizeof (TptLivesEnd));
  g_ptr_array_add (groups, group);
  return group;
}

static void
add_end (TptLifeGroup *group, const TptLife *life, gboolean failed)
{
  TptLivesEnd end = { life->days, failed };

  g_array_append_val (group->ends, end);
}

static const char *const *
list_choices (const char *column)
{
  const TptTable *units = tpt_table_get (TPT_TABLE_UNITS);

  return units->columns[tpt_table_find (units, column)].choices;
}

static void
group_by_choice (GArray *lives, GPtrArray *groups, const char *column)
{
  const char *const *choices = list_choices (column);

  for (guint c = 0; choices[c] != NULL; c++)
    {
      TptLifeGroup *group = NULL;

      for (guint i = 0; i < lives->len; i++)
        {
          const TptLife *life = &g_array_index (lives, TptLife, i);

          if (g_strcmp0 (tpt_record_get_text (life->unit, column), choices[c]) != 0)
            continue;
          if (group == NULL)
            group = add_group (groups, g_strdup (choices[c]), g_strdup (tpt_choice_label (choices[c])));
          add_end (group, life, life->cause != NULL);
        }
    }
}

/* Every unit is in every group: at work until another cause ended it. */
static void
group_by_cause (GArray *lives, GPtrArray *groups)
{
  const char *const *causes = list_choices ("retire_cause");

  for (guint c = 0; causes[c] != NULL; c++)
    {
      TptLifeGroup *group;
      gboolean any = FALSE;

      for (guint i = 0; i < lives->len && !any; i++)
        any = g_strcmp0 (g_array_index (lives, TptLife, i).cause, causes[c]) == 0;
      if (!any)
        continue;
      group = add_group (groups, g_strdup (causes[c]), g_strdup (tpt_choice_label (causes[c])));
      for (guint i = 0; i < lives->len; i++)
        {
          const TptLife *life = &g_array_index (lives, TptLife, i);

          add_end (group, life, g_strcmp0 (life->cause, causes[c]) == 0);
        }
    }
}

/* A model with its make only where two makes have a model of that name. */
static gboolean
is_name_shared (GArray *lives, TptRecord *unit)
{
  for (guint i = 0; i < lives->len; i++)
    {
      TptRecord *other = g_array_index (lives, TptLife, i).unit;

      if (g_strcmp0 (tpt_record_get_text (other, "model"), tpt_record_get_text (unit, "model")) == 0 &&
          g_strcmp0 (tpt_record_get_text (other, "make"), tpt_record_get_text (unit, "make")) != 0)
        return TRUE;
    }
  return FALSE;
}

static char *
name_group (GArray *lives, TptRecord *unit, TptLivesBy by)
{
  const char *make = tpt_record_get_text (unit, "make"), *model = tpt_record_get_text (unit, "model");

  if (by == TPT_LIVES_BY_HOUSING)
    return g_strdup (tpt_record_get_text (unit, "housing"));
  if (make == NULL || !is_name_shared (lives, unit))
    return g_strdup (model);
  return g_strdup_printf ("%s %s", make, model);
}

static int
compare_groups_cb (gconstpointer a, gconstpointer b)
{
  const TptLifeGroup *x = *(const TptLifeGroup *const *) a, *y = *(const TptLifeGroup *const *) b;

  return g_strcmp0 (x->group, y->group);
}

static void
group_by_name (GArray *lives, GPtrArray *groups, TptLivesBy by)
{
  g_autoptr (GHashTable) known = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < lives->len; i++)
    {
      const TptLife *life = &g_array_index (lives, TptLife, i);
      g_autofree char *name = name_group (lives, life->unit, by);
      TptLifeGroup *group = g_hash_table_lookup (known, name);

      if (group == NULL)
        {
          group = add_group (groups, g_strdup (name), g_strdup (name));
          g_hash_table_insert (known, group->group, group);
        }
      add_end (group, life, life->cause != NULL);
    }
  g_ptr_array_sort (groups, compare_groups_cb);
}

GPtrArray *
tpt_lives_group (GArray *lives, TptLivesBy by)
{
  GPtrArray *groups = g_ptr_array_new_with_free_func (free_group);

  if (by == TPT_LIVES_BY_KIND)
    group_by_choice (lives, groups, "kind");
  else if (by == TPT_LIVES_BY_CAUSE)
    group_by_cause (lives, groups);
  else
    group_by_name (lives, groups, by);
  return groups;
}

static SciLife *
copy_lives (const TptLifeGroup *group, gsize number)
{
  SciLife *lives = g_new (SciLife, group->ends->len + 1);

  for (guint i = 0; i < group->ends->len; i++)
    {
      const TptLivesEnd *end = &g_array_index (group->ends, TptLivesEnd, i);

      lives[i] = (SciLife){ end->days, end->failed, number };
    }
  return lives;
}

/* A curve drawn from a handful would promise what it cannot keep. */
static char *
find_reason (const TptLifeGroup *group)
{
  if (group->n < TPT_LIVES_LEAST_UNITS)
    return g_strdup_printf (_("too few for a curve, which takes %d units"), TPT_LIVES_LEAST_UNITS);
  if (group->failures == 0)
    return g_strdup (_("no curve: none has failed so far"));
  if (group->failures < TPT_LIVES_LEAST_FAILURES)
    return g_strdup_printf (_("no curve, which takes %d failures"), TPT_LIVES_LEAST_FAILURES);
  return NULL;
}

static void
estimate_hazard (TptLifeGroup *group)
{
  SciInterval mtbf = sci_mtbf (group->failures, group->unit_days, SCI_STOPPED_BY_TIME, LEVEL);

  group->mtbf = mtbf.estimate;
  group->mtbf_low = group->failures > 0 ? mtbf.lower : sci_mtbf_at_least (0, group->unit_days, LEVEL);
  group->mtbf_high = isfinite (mtbf.upper) ? mtbf.upper : NAN;
}

static void
estimate_curve (TptLifeGroup *group, SciLife *lives)
{
  g_autofree SciSurvivalStep *steps = g_new (SciSurvivalStep, group->n + 1);
  gsize n = sci_survival_curve (lives, group->n, SCI_LIMITS_LOG, LEVEL, steps);
  SciInterval median = sci_survival_median (steps, n);

  for (gsize i = 0; i < n; i++)
    {
      TptLivesStep step = { steps[i].time, (guint) steps[i].at_risk, (guint) steps[i].failures, steps[i].survival,
                            steps[i].lower, steps[i].upper };

      g_array_append_val (group->steps, step);
    }
  group->median = median.estimate;
  group->median_low = median.lower;
  group->median_high = median.upper;
  group->mean_to = lives[group->n - 1].time;
  group->mean = sci_survival_mean (steps, n, group->mean_to, &group->mean_error);
}

static void
sort_ends (TptLifeGroup *group, const SciLife *lives)
{
  for (guint i = 0; i < group->n; i++)
    g_array_index (group->ends, TptLivesEnd, i) = (TptLivesEnd){ lives[i].time, lives[i].failed };
}

void
tpt_lives_estimate (TptLifeGroup *group)
{
  g_autofree SciLife *lives = copy_lives (group, 0);

  group->n = group->ends->len;
  sci_lives_sort (lives, group->n);
  sort_ends (group, lives);
  for (guint i = 0; i < group->n; i++)
    {
      group->failures += lives[i].failed;
      group->unit_days += lives[i].time;
    }
  estimate_hazard (group);
  group->median = group->median_low = group->median_high = NAN;
  group->mean = group->mean_error = group->mean_to = NAN;
  group->reason = find_reason (group);
  if (group->reason == NULL)
    estimate_curve (group, lives);
}

/* (element-type SciLife): of all groups large enough; how many those are. */
static GArray *
pool_lives (GPtrArray *groups, gsize *n_groups, guint *failures)
{
  GArray *pool = g_array_new (FALSE, FALSE, sizeof (SciLife));

  for (guint i = 0; i < groups->len; i++)
    {
      const TptLifeGroup *group = groups->pdata[i];
      g_autofree SciLife *lives = copy_lives (group, *n_groups);

      if (group->n < TPT_LIVES_LEAST_UNITS)
        continue;
      g_array_append_vals (pool, lives, group->n);
      *failures += group->failures;
      ++*n_groups;
    }
  return pool;
}

static char *
say_test (const TptLifeTest *test)
{
  g_autofree char *p = tpt_words_chance (test->p);

  if (test->p < 1 - LEVEL)
    /* Translators: a statistic, degrees of freedom, "p = 0.012". */
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                         "The groups differ: log-rank chi-square %1$.2f with %2$d degree of freedom, %3$s.",
                                         "The groups differ: log-rank chi-square %1$.2f with %2$d degrees of freedom, %3$s.", test->df),
                            test->chi2, test->df, p);
  return g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "Chance alone could make the groups differ so much: log-rank chi-square %1$.2f with %2$d degree of freedom, %3$s.",
                 "Chance alone could make the groups differ so much: log-rank chi-square %1$.2f with %2$d degrees of freedom, %3$s.", test->df),
    test->chi2, test->df, p);
}

void
tpt_lives_compare (GPtrArray *groups, TptLivesBy by, TptLifeTest *test)
{
  g_autoptr (GArray) pool = NULL;
  gsize n_groups = 0;
  guint failures = 0;
  SciLogRank found;

  *test = (TptLifeTest){ NAN, 0, NAN, NULL };
  if (by == TPT_LIVES_BY_CAUSE)
    {
      test->words = g_strdup (_("Every unit is in every curve: causes are not groups, and there is nothing to test. A unit that "
                                "another cause ended counts as at work until then."));
      return;
    }
  pool = pool_lives (groups, &n_groups, &failures);
  if (n_groups < 2 || n_groups > SCI_LOG_RANK_GROUPS || failures < TPT_LIVES_TEST_FAILURES)
    {
      test->words = n_groups > SCI_LOG_RANK_GROUPS
                      ? g_strdup_printf (_("No test: it compares %d groups at most."), SCI_LOG_RANK_GROUPS)
                      : g_strdup_printf (_("No test: it takes two groups of at least %d units and %d failures in them."),
                                         TPT_LIVES_LEAST_UNITS, TPT_LIVES_TEST_FAILURES);
      return;
    }
  found = sci_log_rank ((SciLife *) (gpointer) pool->data, pool->len, n_groups, NULL, NULL);
  *test = (TptLifeTest){ found.chi2, found.df, found.p, NULL };
  test->words = found.df > 0 ? say_test (test) : g_strdup (_("No test: the groups were never at work at the same age."));
}
