/* Asking where to save, in the desktop's own dialog. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* (transfer full): not shown yet. It begins in the folder of @beside with the
 * name @name; @endings names the filter, @patterns (%NULL-terminated) are its
 * globs. */
GtkFileChooserNative *tpt_save_chooser_new (GtkWindow *parent,
                                            const char *title,
                                            const char *beside,
                                            const char *name,
                                            const char *endings,
                                            const char *const *patterns);

G_END_DECLS
