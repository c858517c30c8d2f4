/* Card batches with how far the naming is. */
#pragma once

#include "tpt-job.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptBatchState:
 * @batch: (owned): code
 * @deployment: (owned) (nullable):
 * @station: (owned) (nullable): code
 * @station_title: (owned) (nullable): its name, else its code
 * @triggers: all
 * @undecided: of these, nobody has said anything
 * @disagreements: of these, opinions differ
 * @scored: of these, have a score
 * @set_aside: files that gave no frame
 */
typedef struct {
  char *batch;
  char *deployment;
  char *station;
  char *station_title;
  TptInstant taken_at;
  TptInstant first;
  TptInstant last;
  gint64 frames;
  gint64 triggers;
  gint64 undecided;
  gint64 disagreements;
  gint64 scored;
  gint64 set_aside;
} TptBatchState;

#define TPT_TYPE_JOB_BATCHES (tpt_job_batches_get_type ())
G_DECLARE_FINAL_TYPE (TptJobBatches, tpt_job_batches, TPT, JOB_BATCHES, TptJob)

TptJobBatches *tpt_job_batches_new (void);

/* (transfer none) (element-type TptBatchState): newest first. */
GPtrArray *tpt_job_batches_get_batches (TptJobBatches *self);

G_END_DECLS
