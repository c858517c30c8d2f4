/* Small pictures remembered on disk, so that they need not be decoded again.
 *
 * A picture is kept under the SHA-256 of the file that it was made of, in a file
 * of its own, which is written whole or not at all and carries a checksum. The
 * folder may be deleted at any time, be read-only, or be shared by several
 * programs at once: then things are slower, and never wrong. Nothing here fails
 * with an error; what is not remembered is made again.
 *
 * Kept within its bound by removing what was not used for longest. Programs that
 * share a folder notice each other's files once in a while: together they may be
 * over the bound by a sixteenth of it each.
 *
 * All calls may come from several threads.
 */
#pragma once

#include <glib.h>

#include "tpt-pixels.h"

G_BEGIN_DECLS

/* The largest picture kept, pixels of the longer side. */
#define TPT_PREVIEW_CACHE_SIDE 512

typedef struct _TptPreviewCache TptPreviewCache;

/**
 * tpt_preview_cache_new:
 * @folder: (nullable): made when it is needed; %NULL for `tapetum/previews` in
 *   the user's cache folder
 * @most: bytes to keep; 0 for 512 MiB
 */
TptPreviewCache *tpt_preview_cache_new (const char *folder, guint64 most);
void tpt_preview_cache_free (TptPreviewCache *cache);

/* (transfer full) (nullable): @sha256 of the picture's file, 64 hexadecimal
 * digits; @size as it was asked for. What is damaged is removed. */
TptPixels *tpt_preview_cache_find (TptPreviewCache *cache, const char *sha256, int size);

/* Keeps @pixels, unless @sha256 is none or @size is 0 or above %TPT_PREVIEW_CACHE_SIDE,
 * or the picture is partial. */
void tpt_preview_cache_keep (TptPreviewCache *cache, const char *sha256, int size, const TptPixels *pixels);

/* Bytes in the folder, as far as is known. */
guint64 tpt_preview_cache_get_bytes (TptPreviewCache *cache);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptPreviewCache, tpt_preview_cache_free)

G_END_DECLS
