#include "config.h"

#include "tpt-save-chooser.h"

#include <glib/gi18n-lib.h>

GtkFileChooserNative *
tpt_save_chooser_new (GtkWindow *parent,
                      const char *title,
                      const char *beside,
                      const char *name,
                      const char *endings,
                      const char *const *patterns)
{
  GtkFileChooserNative *chooser =
    gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_SAVE, _("_Save"), _("_Cancel"));
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  g_autofree char *path = g_path_get_dirname (beside);
  g_autoptr (GFile) folder = g_file_new_for_path (path);

  gtk_file_filter_set_name (filter, endings);
  for (guint i = 0; patterns[i] != NULL; i++)
    gtk_file_filter_add_pattern (filter, patterns[i]);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (chooser), folder, NULL);
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), name);
  return chooser;
}
