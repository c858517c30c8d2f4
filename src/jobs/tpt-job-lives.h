/* How long units last: survival curves by what they have in common, and by what
 * ended them.
 *
 * A unit's life begins when it was acquired (local midnight), or when it was
 * first fitted if that is not on record. It ends with the first failure or loss
 * in its log, or when it was retired for one of the causes of failure. A unit
 * that has not failed counts as at work until it was retired, or until now.
 */
#pragma once

#include "tpt-figure.h"
#include "tpt-job.h"
#include "tpt-lives.h"

G_BEGIN_DECLS

/* A curve takes so many units and failures, the test between groups so many
 * units in each and failures in all. */
#define TPT_LIVES_LEAST_UNITS 5
#define TPT_LIVES_LEAST_FAILURES 2
#define TPT_LIVES_TEST_FAILURES 5

typedef enum {
  TPT_LIVES_BY_KIND,
  TPT_LIVES_BY_HOUSING,
  TPT_LIVES_BY_MODEL,
  TPT_LIVES_BY_CAUSE,
} TptLivesBy;

/* %FALSE when @word is none of "kind", "housing", "model", "cause". */
gboolean tpt_lives_by_parse (const char *word, TptLivesBy *by);

/**
 * TptLifeGroup: days are of 24 hours; NAN is 'not known'.
 * @group: (owned): "camera", "steel box", "moisture"
 * @label: (owned): the same for people
 * @reason: (owned) (nullable): why there is no curve; then @steps are empty and
 *   the medians and the mean not known
 * @unit_days: together at work
 * @mtbf: mean time to the first failure if failing does not depend on age, with
 *   95 % limits; without a failure only @mtbf_low
 * @median: with 95 % limits; NAN where the curve does not come down so far
 * @mean: mean life up to @mean_to, the greatest age seen, with its standard error
 * @steps: (owned) (element-type TptLivesStep): limits of 95 %, symmetric in ln S
 * @ends: (owned) (element-type TptLivesEnd): by age
 */
typedef struct {
  char *group;
  char *label;
  char *reason;
  guint n;
  guint failures;
  double unit_days;
  double mtbf, mtbf_low, mtbf_high;
  double median, median_low, median_high;
  double mean, mean_error, mean_to;
  GArray *steps;
  GArray *ends;
} TptLifeGroup;

/**
 * TptLifeTest: the log-rank test between the groups.
 * @words: (owned): what it says, or why there is none (then @p is NAN)
 */
typedef struct {
  double chi2;
  int df;
  double p;
  char *words;
} TptLifeTest;

#define TPT_TYPE_JOB_LIVES (tpt_job_lives_get_type ())
G_DECLARE_FINAL_TYPE (TptJobLives, tpt_job_lives, TPT, JOB_LIVES, TptJob)

TptJobLives *tpt_job_lives_new (TptLivesBy by);

/* (element-type TptLifeGroup): kinds and causes in the order of the units table,
 * the others by name. */
GPtrArray *tpt_job_lives_get_groups (TptJobLives *self);
const TptLifeTest *tpt_job_lives_get_test (TptJobLives *self);

/* Units that count, how many of them failed, and how many are left out. */
guint tpt_job_lives_get_n (TptJobLives *self);
guint tpt_job_lives_get_failures (TptJobLives *self);
guint tpt_job_lives_get_left_out (TptJobLives *self);

/* "7 of 92 units failed in 52,310 days at work." */
const char *tpt_job_lives_get_sentence (TptJobLives *self);
/* Why units are left out; "" when none is. */
const char *tpt_job_lives_get_left_out_words (TptJobLives *self);

/* (transfer none): #TptFigure of kind "lives". */
TptFigure *tpt_job_lives_get_figure (TptJobLives *self);

G_END_DECLS
