/* The life of each unit as it is on record. */
#pragma once

#include "tpt-job-lives.h"
#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Why a unit does not count. */
typedef enum {
  TPT_LIFE_NO_START,  /* neither acquired nor ever fitted */
  TPT_LIFE_NOT_YET,   /* begins after the moment of asking */
  TPT_LIFE_BACKWARDS, /* failed or retired before it began */
  TPT_LIFE_NO_GROUP,  /* has no housing or model on record */
  TPT_N_LIFE_WHY,
} TptLifeWhy;

/**
 * TptLife: one unit.
 * @unit: (owned)
 * @days: from its beginning to its first failure, else to its retirement or now
 * @cause: (not owned): a word of the units table; %NULL while it has not failed
 */
typedef struct {
  TptRecord *unit;
  double days;
  const char *cause;
} TptLife;

/**
 * tpt_lives_read:
 * @now: what came later is not known
 * @left_out: (array fixed-size=TPT_N_LIFE_WHY): counts are added
 *
 * Returns: (element-type TptLife): in the order of the units' codes
 */
GArray *tpt_lives_read (TptStore *store, TptInstant now, guint *left_out, GError **error);

/* Puts @lives (element-type TptLife) into groups; by housing and by model each
 * must have one. Returns: (element-type TptLifeGroup), without their estimates. */
GPtrArray *tpt_lives_group (GArray *lives, TptLivesBy by);

/* Fills in what the ends of its lives say of a group. */
void tpt_lives_estimate (TptLifeGroup *group);

/* Compares @groups, unless they are causes. */
void tpt_lives_compare (GPtrArray *groups, TptLivesBy by, TptLifeTest *test);

/* Runs @self inside another job. */
gboolean tpt_job_lives_compute (TptJobLives *self, TptStore *store, GError **error);

G_END_DECLS
