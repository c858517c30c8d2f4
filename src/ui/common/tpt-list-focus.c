#include "tpt-list-focus.h"

gboolean
tpt_list_focus_leave (GtkWidget *list, GtkDirectionType direction)
{
  GtkRoot *root = gtk_widget_get_root (list);
  gboolean moved;

  if (root == NULL)
    return FALSE;
  gtk_widget_set_can_focus (list, FALSE); /* so that the search for the next place passes it over */
  moved = gtk_widget_child_focus (GTK_WIDGET (root), direction);
  gtk_widget_set_can_focus (list, TRUE);
  return moved;
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, gpointer data)
{
  GtkWidget *list = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (controller));
  gboolean back = (state & GDK_SHIFT_MASK) != 0;

  if (key != GDK_KEY_Tab && key != GDK_KEY_KP_Tab && key != GDK_KEY_ISO_Left_Tab)
    return FALSE;
  return tpt_list_focus_leave (list, back ? GTK_DIR_TAB_BACKWARD : GTK_DIR_TAB_FORWARD);
}

void
tpt_list_focus_install (GtkWidget *list)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), NULL);
  gtk_widget_add_controller (list, keys);
}
