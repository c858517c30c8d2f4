#include "tpt-welcome-page.h"

#include <adwaita.h>

struct _TptWelcomePage {
  GtkWidget parent_instance;

  GtkWidget *status;
  GtkWidget *recent_title;
  GtkListBox *recent;
};

G_DEFINE_FINAL_TYPE (TptWelcomePage, tpt_welcome_page, GTK_TYPE_WIDGET)

static void
tpt_welcome_page_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_WELCOME_PAGE);

  G_OBJECT_CLASS (tpt_welcome_page_parent_class)->dispose (object);
}

static void
tpt_welcome_page_class_init (TptWelcomePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_welcome_page_dispose;

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-welcome-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TptWelcomePage, status);
  gtk_widget_class_bind_template_child (widget_class, TptWelcomePage, recent_title);
  gtk_widget_class_bind_template_child (widget_class, TptWelcomePage, recent);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_welcome_page_init (TptWelcomePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static GtkWidget *
make_row (const char *path)
{
  GtkWidget *row = adw_action_row_new ();
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *title = g_filename_display_name (name);
  g_autofree char *subtitle = g_filename_display_name (folder);

  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (row), FALSE);
  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), title);
  adw_action_row_set_subtitle (ADW_ACTION_ROW (row), subtitle);
  adw_action_row_add_suffix (ADW_ACTION_ROW (row), gtk_image_new_from_icon_name ("go-next-symbolic"));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), TRUE);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (row), "win.open-path");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (row), "s", path);
  return row;
}

void
tpt_welcome_page_set_recent (TptWelcomePage *self, const char *const *paths)
{
  guint n = 0;
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (self->recent))) != NULL)
    gtk_list_box_remove (self->recent, row);
  for (guint i = 0; paths[i] != NULL; i++)
    if (g_file_test (paths[i], G_FILE_TEST_IS_REGULAR))
      {
        gtk_list_box_append (self->recent, make_row (paths[i]));
        n++;
      }
  gtk_widget_set_visible (self->recent_title, n > 0);
  gtk_widget_set_visible (GTK_WIDGET (self->recent), n > 0);
}
