/* A file that appears wholly or not at all.
 *
 * The bytes go to a temporary file beside the target. The commit brings them
 * to disk and renames the file into place; until then, and after any failure,
 * the target is what it was before and the temporary file is removed (a crash
 * may leave it behind, hidden, named ".NAME.xxxxxxxx.part"). An existing
 * target passes its permissions on. Every step is a fault point.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _TptOutput TptOutput;

/* (transfer full) (nullable): %NULL with %TPT_ERROR_IO, also when the target
 * exists and is no ordinary file. A symbolic link is followed. */
TptOutput *tpt_output_new (const char *path, GError **error);
void tpt_output_free (TptOutput *output);

/* @length -1 for a NUL-terminated text. A failed write makes every later call
 * fail with the same error. */
gboolean tpt_output_write (TptOutput *output, const char *data, gssize length, GError **error);

/* Once; nothing can be written afterwards. */
gboolean tpt_output_commit (TptOutput *output, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptOutput, tpt_output_free)

G_END_DECLS
