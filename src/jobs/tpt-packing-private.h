/* Reading the shelf, for the jobs that pack. */
#pragma once

#include "tpt-packing.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): units in no rig at @on and not retired by then,
 * and the stock as it is counted now; %NULL with @error. */
TptPackShelf *tpt_pack_shelf_read (TptStore *store, TptInstant on, GError **error);

G_END_DECLS
