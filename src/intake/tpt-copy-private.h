/* Shared by tpt-copy.c and tpt-copy-folder.c only. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TPT_COPY_TEMPORARY ".tapetum-part-"

/* %FALSE, with words for @error_number about @path. @doing has one `%s`, the file. */
gboolean tpt_copy_fail (GError **error, const char *doing, const char *path, int error_number);

/* Passes the fault point "unlink". A file that is gone already is fine. */
gboolean tpt_copy_remove (const char *path, GError **error);

G_END_DECLS
