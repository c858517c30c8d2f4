/* Which triggers have been decided, and which of them were false. */
#pragma once

#include "tpt-verdicts.h"

G_BEGIN_DECLS

typedef enum {
  TPT_FIRED_UNDECIDED,
  TPT_FIRED_BLANK,
  TPT_FIRED_SEEN, /* something was there, be it known what or not */
} TptFiredFor;

typedef struct {
  gint64 deployment_id;
  TptInstant at;
  TptFiredFor what;
} TptFired;

/**
 * tpt_blanks_decide:
 * @firings: (element-type TptFiring): by deployment and start
 * @verdicts: (element-type TptVerdict): by deployment and start
 *
 * A trigger is decided by every verdict whose time it shares; one that saw
 * something outdoes those that say blank. A verdict noted to the second stands
 * for that whole second. In a deployment without a trigger on record each
 * moment with a verdict stands for one.
 *
 * Returns: (element-type TptFired): by deployment and time
 */
GArray *tpt_blanks_decide (GArray *firings, GArray *verdicts);

G_END_DECLS
