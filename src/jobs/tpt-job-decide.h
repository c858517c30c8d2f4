/* Says what triggers show; lets an opinion count; marks frames; moves the limits
 * between triggers. Each is one action that can be undone. */
#pragma once

#include "tpt-job.h"

G_BEGIN_DECLS

/**
 * TptDecision:
 * @type: animal, human, vehicle, blank, unknown; %NULL takes back what @by said
 * @species: (nullable): scientific name; only of an animal
 * @count: 0 unknown
 * @sex: (nullable): female, male
 * @life_stage: (nullable): adult, subadult, juvenile
 * @behaviour: (nullable):
 * @individual: (nullable):
 * @notes: (nullable):
 * @certainty: 0 to 1; NAN not said
 * @by: (nullable): who says so
 * @besides: adds to what @by has said of the trigger (several species in one
 *   trigger) instead of taking its place. The same species again changes that one
 */
typedef struct {
  const char *type;
  const char *species;
  int count;
  const char *sex;
  const char *life_stage;
  const char *behaviour;
  const char *individual;
  const char *notes;
  double certainty;
  const char *by;
  gboolean besides;
} TptDecision;

#define TPT_TYPE_JOB_DECIDE (tpt_job_decide_get_type ())
G_DECLARE_FINAL_TYPE (TptJobDecide, tpt_job_decide, TPT, JOB_DECIDE, TptJob)

/**
 * tpt_job_decide_new:
 * @trigger_ids: (array length=n): copied
 * @decision: copied
 *
 * Where nobody else has spoken, what @by says counts (opinion 1), in place of what
 * @by said before. Where somebody else's word counts, @by's is kept beside it
 * as the next opinion and enters no result until it is let count. A vanished
 * trigger is passed over. When the word that counted is taken back, the next
 * one counts. "Blank" and something seen take each other's place even with
 * @besides. A species may also be given by a common name that only it has.
 */
TptJobDecide *tpt_job_decide_new (const gint64 *trigger_ids, guint n, const TptDecision *decision);

gint64 tpt_job_decide_get_changed (TptJobDecide *self); /* triggers */
gint64 tpt_job_decide_get_beside (TptJobDecide *self);  /* of these, kept beside another's word */

/* The opinion of this number counts from now on, and the difference is settled:
 * the others are kept with numbers from 50 on and are not among those that
 * disagree. 1 settles for what counts already. */
#define TPT_TYPE_JOB_SETTLE (tpt_job_settle_get_type ())
G_DECLARE_FINAL_TYPE (TptJobSettle, tpt_job_settle, TPT, JOB_SETTLE, TptJob)
TptJobSettle *tpt_job_settle_new (const gint64 *trigger_ids, guint n, int opinion);

/* @mark is "guests". */
#define TPT_TYPE_JOB_MARK (tpt_job_mark_get_type ())
G_DECLARE_FINAL_TYPE (TptJobMark, tpt_job_mark, TPT, JOB_MARK, TptJob)
TptJobMark *tpt_job_mark_new (const gint64 *frame_ids, guint n, const char *mark, gboolean on, const char *by);

/* Splits a trigger before @frame_id, whose part stays undecided; or joins a
 * trigger to the one before it in the same batch, with what was said of both. */
#define TPT_TYPE_JOB_REGROUP (tpt_job_regroup_get_type ())
G_DECLARE_FINAL_TYPE (TptJobRegroup, tpt_job_regroup, TPT, JOB_REGROUP, TptJob)
TptJobRegroup *tpt_job_regroup_new_split (gint64 frame_id);
TptJobRegroup *tpt_job_regroup_new_join (gint64 trigger_id);
/* The trigger that is left or new. */
gint64 tpt_job_regroup_get_trigger (TptJobRegroup *self);

G_END_DECLS
