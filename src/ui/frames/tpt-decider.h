/* Writes what was decided, behind the window's back, in the order it was said.
 *
 * What fails is kept until it has been written after all or is given up. What
 * was said is written even when whoever said it has gone.
 *
 * Signals: "failed" (trigger id, int64): a decision could not be written; the first
 * time that something fails, until all is well again.
 * "complained" (message): another change failed; it is not kept.
 * "settled": something was written or given up.
 * "finished" (job): another change was written.
 */
#pragma once

#include "tpt-job-decide.h"
#include "tpt-project.h"

G_BEGIN_DECLS

/* A decision that owns its texts. */
TptDecision *tpt_decision_copy (const TptDecision *decision);
void tpt_decision_free (TptDecision *decision);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptDecision, tpt_decision_free)

#define TPT_TYPE_DECIDER (tpt_decider_get_type ())
G_DECLARE_FINAL_TYPE (TptDecider, tpt_decider, TPT, DECIDER, GObject)

TptDecider *tpt_decider_new (TptProject *project);

/* @decision is copied. */
void tpt_decider_decide (TptDecider *self, gint64 trigger_id, const TptDecision *decision);

/* Any other change, in the same order. */
void tpt_decider_run (TptDecider *self, TptJob *job);

/* Not yet written, and not failed. */
guint tpt_decider_get_pending (TptDecider *self);

/* Failed and kept; @message (out) (optional) (transfer none): why the first one did. */
guint tpt_decider_get_failed (TptDecider *self, const char **message);
void tpt_decider_retry (TptDecider *self);
void tpt_decider_give_up (TptDecider *self);

/* Whether a change of the project that was just told of is one of these; each
 * is told of once. */
gboolean tpt_decider_expects_change (TptDecider *self);

G_END_DECLS
