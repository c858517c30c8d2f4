/* Opening a file to read, for every format alike. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * tpt_input_open:
 * @path: a file
 * @name: (out) (transfer full): its last part, as messages call it
 * @error: return location
 *
 * Returns: (transfer full) (nullable): %NULL with %TPT_ERROR_IO
 */
GFileInputStream *tpt_input_open (const char *path, char **name, GError **error);

G_END_DECLS
