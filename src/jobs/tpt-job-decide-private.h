/* Shared by the jobs that say what triggers show. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/* Does its part for one trigger or frame, inside the action; @changed is set
 * when anything was written. A key that is gone is passed over. */
typedef gboolean (*TptEachKeyFunc) (gpointer self, TptStore *store, gint64 key, gboolean *changed, GError **error);

/* One action named @what over @keys (gint64), none of it kept when it fails or is
 * cancelled. @n_changed: (out) */
gboolean tpt_decide_each (TptStore *store, const char *what, GArray *keys, TptEachKeyFunc func, gpointer self,
                          gint64 *n_changed, GCancellable *cancellable, GError **error);

/* (transfer full): @n keys, each once, in the order given. */
GArray *tpt_decide_keys (const gint64 *keys, guint n);

G_END_DECLS
