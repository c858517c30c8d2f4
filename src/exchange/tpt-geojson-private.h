/* For the GeoJSON reader alone. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * tpt_geojson_guard:
 * @text: the whole file, after any byte-order mark
 * @length: its bytes
 * @line: (out): where the fault is, counting from 1
 *
 * Looks through the text before a parser that trusts it is let near: the
 * parser descends once per nesting level, takes more than JSON allows
 * (comments, octal numbers), and lets numbers run over. Whether the tokens
 * make sense together is left to the parser.
 *
 * Returns: (nullable): what is wrong, or %NULL
 */
const char *tpt_geojson_guard (const char *text, gsize length, gint64 *line);

G_END_DECLS
