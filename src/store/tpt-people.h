/* Which pictures show people. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * tpt_store_read_people:
 *
 * A frame shows people when anybody, whether their opinion counts or not, said
 * so of it, of another frame of its trigger, or of the trigger.
 *
 * Returns: (transfer full) (element-type utf8): a set of frame codes; %NULL
 *   with @error when the file fails
 */
GHashTable *tpt_store_read_people (TptStore *self, GError **error);

G_END_DECLS
