/* The files of the cache and how many may stay. */
#pragma once

#include "tpt-preview-cache.h"

G_BEGIN_DECLS

/* What a file of the cache is called; the same for one half-written, so that
 * what a program left behind that was stopped is removed like the rest. */
#define TPT_PREVIEW_CACHE_SUFFIX ".preview"

/**
 * tpt_preview_cache_trim:
 * @folder: of the cache
 * @most: bytes that may stay without anything being removed
 * @target: bytes to come down to, when there are more than @most
 *
 * Returns: bytes that are there afterwards
 */
guint64 tpt_preview_cache_trim (const char *folder, guint64 most, guint64 target);

/* (transfer full): the content of a cache's file. */
GByteArray *tpt_preview_cache_pack (const TptPixels *pixels);

/* (transfer full) (nullable): %NULL for anything that pack() did not write. */
TptPixels *tpt_preview_cache_unpack (const guint8 *data, gsize length);

G_END_DECLS
