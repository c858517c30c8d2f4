/* A window with one thing in it to drag: the folder given. Stands in for a file
 * manager in tests that use the mouse alone. */
#include <gtk/gtk.h>

static GdkContentProvider *
prepare_cb (GtkDragSource *source, double x, double y, gpointer path)
{
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (path);
  g_autoptr (GSList) files = g_slist_prepend (NULL, file);
  GdkFileList *list = gdk_file_list_new_from_list (files);
  GdkContentProvider *content = gdk_content_provider_new_typed (GDK_TYPE_FILE_LIST, list);

  g_boxed_free (GDK_TYPE_FILE_LIST, list);
  return content;
}

int
main (int argc, char *argv[])
{
  GtkWidget *window, *label;
  GtkDragSource *source;

  if (argc != 2 || !gtk_init_check ())
    return 1;
  window = gtk_window_new ();
  label = gtk_label_new ("folder");
  source = gtk_drag_source_new ();
  g_signal_connect (source, "prepare", G_CALLBACK (prepare_cb), argv[1]);
  gtk_widget_add_controller (label, GTK_EVENT_CONTROLLER (source));
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), 90, 60);
  gtk_window_set_child (GTK_WINDOW (window), label);
  gtk_window_present (GTK_WINDOW (window));
  while (TRUE)
    g_main_context_iteration (NULL, TRUE);
}
