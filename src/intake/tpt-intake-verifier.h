/* The second half of the copies, in a thread of its own: while one file is
 * made safe and read back, the next is read from the card. Private to intake/.
 */
#pragma once

#include "tpt-copy.h"

G_BEGIN_DECLS

typedef struct _TptIntakeVerifier TptIntakeVerifier;

TptIntakeVerifier *tpt_intake_verifier_new (GCancellable *cancellable);

/**
 * tpt_intake_verifier_push:
 * @copy: (transfer full): a copy begun
 * @destination: its final place
 *
 * Waits while too many are under way. %FALSE with @error when an earlier one
 * failed; @copy is thrown away then.
 */
gboolean tpt_intake_verifier_push (TptIntakeVerifier *verifier, TptCopy *copy, const char *destination,
                                   GError **error);

/* @verifier: (transfer full). Waits for all; %FALSE with the first failure. */
gboolean tpt_intake_verifier_finish (TptIntakeVerifier *verifier, GError **error);

/* Gives up: what is not finished is thrown away. */
void tpt_intake_verifier_free (TptIntakeVerifier *verifier);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptIntakeVerifier, tpt_intake_verifier_free)

G_END_DECLS
