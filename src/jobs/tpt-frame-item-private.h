/* For those that fill frames in. */
#pragma once

#include "tpt-frame-item.h"

G_BEGIN_DECLS

TptSeen *tpt_seen_new (void);
void tpt_seen_free (TptSeen *self);

/* Whether what counts and any other opinion are not the same set of types and
 * species. @seen: (element-type TptSeen) */
gboolean tpt_seen_differ (GPtrArray *seen);

G_END_DECLS
