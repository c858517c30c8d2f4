/* The demo: a project with two years of history and two cards not yet taken in. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* Name of the project file the demo writes into its folder. */
#define TPT_DEMO_FILE "kelabau.gpkg"

/**
 * tpt_demo_write:
 * @folder: made if missing; must hold nothing
 *
 * Writes the same bytes every time. A failure or a cancelled run removes what it wrote.
 */
gboolean tpt_demo_write (const char *folder, GCancellable *cancellable, GError **error);

G_END_DECLS
