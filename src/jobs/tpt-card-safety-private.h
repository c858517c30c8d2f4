/* Whether a card may be used again. */
#pragma once

#include "tpt-intake-run.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * tpt_card_check_safe:
 * @intake: a run that came to its end, so that every frame in it is verified
 * @why_not: (out) (transfer full) (nullable): what stands against it, in a
 *   sentence; %NULL when the card is safe to use again
 *
 * Pictures that were on record before are read back from the project's folder
 * and compared; everything that could not be read must be kept.
 *
 * Returns: %FALSE with @error when that cannot be told
 */
gboolean tpt_card_check_safe (TptStore *store, const TptIntake *intake, char **why_not, GCancellable *cancellable,
                              GError **error);

G_END_DECLS
