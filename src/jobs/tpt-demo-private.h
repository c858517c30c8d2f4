/* The parts of the demo. */
#pragma once

#include <gio/gio.h>

#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* Writes every record of the two years into @store, inside actions of its own,
 * the pictures on record below @folder/pictures, and the cards below
 * @folder/cards. */
gboolean tpt_demo_fill (TptStore *store, const char *folder, GCancellable *cancellable, GError **error);

/* The moment the demo's clock stands at: 12 June 2026, 17:00 at the lodge. */
#define TPT_DEMO_NOW G_GINT64_CONSTANT (1781254800000)
#define TPT_DEMO_ZONE "Asia/Kuching"

G_END_DECLS
