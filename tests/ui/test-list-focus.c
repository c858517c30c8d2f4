#include "tpt-list-focus.h"

#include "ui-helpers.h"

static void
setup_cb (GtkListItemFactory *factory, GtkListItem *item, gpointer data)
{
  gtk_list_item_set_child (item, gtk_label_new ("row"));
}

/* One step out of the list, however many rows it has. */
static void
test_leave (void)
{
  static const char *const rows[] = { "one", "two", "three", "four", "five", NULL };
  static const struct {
    guint row;
    GtkDirectionType direction;
    gboolean after;
  } cases[] = {
    { 0, GTK_DIR_TAB_FORWARD, TRUE },   { 2, GTK_DIR_TAB_FORWARD, TRUE },  { 4, GTK_DIR_TAB_FORWARD, TRUE },
    { 0, GTK_DIR_TAB_BACKWARD, FALSE }, { 3, GTK_DIR_TAB_BACKWARD, FALSE },
  };
  GtkWidget *window = gtk_window_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *before = gtk_button_new_with_label ("before"), *after = gtk_button_new_with_label ("after");
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *scrolled = gtk_scrolled_window_new (), *list;

  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), NULL);
  list = gtk_list_view_new (GTK_SELECTION_MODEL (gtk_single_selection_new (G_LIST_MODEL (gtk_string_list_new (rows)))), factory);
  tpt_list_focus_install (list);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), list);
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (box), before);
  gtk_box_append (GTK_BOX (box), scrolled);
  gtk_box_append (GTK_BOX (box), after);
  gtk_window_set_child (GTK_WINDOW (window), box);
  gtk_window_set_default_size (GTK_WINDOW (window), 300, 400);
  gtk_window_present (GTK_WINDOW (window));
  ui_settle ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *row = gtk_widget_get_first_child (list);

      for (guint n = 0; n < cases[i].row; n++)
        row = gtk_widget_get_next_sibling (row);
      g_assert_true (gtk_widget_grab_focus (row));
      g_assert_true (tpt_list_focus_leave (list, cases[i].direction));
      g_assert_true (gtk_window_get_focus (GTK_WINDOW (window)) == (cases[i].after ? after : before));
      g_assert_true (gtk_widget_get_can_focus (list));
    }
  gtk_window_destroy (GTK_WINDOW (window));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  gtk_init ();
  g_test_add_func ("/ui/list-focus/leave", test_leave);
  return g_test_run ();
}
