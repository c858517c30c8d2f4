#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-settings.h"
#include "tpt-style.h"
#include "tpt-window-private.h"

G_DEFINE_FINAL_TYPE (TptWindow, tpt_window, ADW_TYPE_APPLICATION_WINDOW)

enum {
  PROP_0,
  PROP_PAGE,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

/* Back where the findings led to pictures, else to where a species is named. */
static void
return_focus (TptWindow *self)
{
  GtkWidget *widget = self->led_from;

  g_clear_weak_pointer (&self->led_from);
  if (widget == NULL || !gtk_widget_get_mapped (widget))
    widget = GTK_WIDGET (self->findings);
  gtk_widget_grab_focus (widget);
}

static void
page_cb (TptWindow *self)
{
  const char *page = adw_view_stack_get_visible_child_name (self->pages);

  if (page == NULL || gtk_widget_in_destruction (GTK_WIDGET (self)))
    return;
  tpt_settings_set_text ("last-page", page);
  if (self->project != NULL && g_str_equal (page, "sorting"))
    gtk_widget_grab_focus (GTK_WIDGET (self->sorting)); /* its keys work at once */
  if (g_str_equal (page, "findings"))
    return_focus (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PAGE]);
}

/* Asked for again, the page takes the keyboard back to where its keys work. */
static void
set_page (TptWindow *self, const char *page)
{
  gboolean again = g_strcmp0 (adw_view_stack_get_visible_child_name (self->pages), page) == 0;

  if (again)
    page_cb (self);
  else
    adw_view_stack_set_visible_child_name (self->pages, page);
}

static void
hide_trouble_cb (TptWindow *self)
{
  gtk_info_bar_set_revealed (self->trouble, FALSE);
}

static void
restore_size (TptWindow *self)
{
  gtk_window_set_default_size (GTK_WINDOW (self), tpt_settings_get_int ("window-width"),
                               tpt_settings_get_int ("window-height"));
  if (tpt_settings_get_flag ("window-maximized"))
    gtk_window_maximize (GTK_WINDOW (self));
}

static gboolean
tpt_window_close_request (GtkWindow *window)
{
  int width, height;

  gtk_window_get_default_size (window, &width, &height);
  tpt_settings_set_flag ("window-maximized", gtk_window_is_maximized (window));
  if (!gtk_window_is_maximized (window) && width > 0 && height > 0)
    {
      tpt_settings_set_int ("window-width", width);
      tpt_settings_set_int ("window-height", height);
    }
  return GTK_WINDOW_CLASS (tpt_window_parent_class)->close_request (window);
}

static void
tpt_window_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PAGE:
      g_value_set_string (value, adw_view_stack_get_visible_child_name (TPT_WINDOW (object)->pages));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_window_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_PAGE:
      set_page (TPT_WINDOW (object), g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_window_dispose (GObject *object)
{
  TptWindow *self = TPT_WINDOW (object);

  tpt_window_drop_project (self);
  g_clear_object (&self->chooser);
  g_clear_object (&self->toast);
  g_clear_weak_pointer (&self->led_from);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_WINDOW);

  G_OBJECT_CLASS (tpt_window_parent_class)->dispose (object);
}

static void
tpt_window_finalize (GObject *object)
{
  g_free (TPT_WINDOW (object)->opening_path);

  G_OBJECT_CLASS (tpt_window_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptWindow, toasts);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, title);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, name);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, clock);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, read_only);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, history);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, undo);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, redo);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, menu_button);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, recent_menu);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, trouble);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, trouble_text);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, stack);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, welcome);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, opening_text);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, fault);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, field);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, sorting);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, findings);
  gtk_widget_class_bind_template_child (widget_class, TptWindow, shelf);
}

static void
tpt_window_class_init (TptWindowClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_window_dispose;
  object_class->finalize = tpt_window_finalize;
  object_class->get_property = tpt_window_get_property;
  object_class->set_property = tpt_window_set_property;
  GTK_WINDOW_CLASS (klass)->close_request = tpt_window_close_request;

  properties[PROP_PAGE] = g_param_spec_string ("page", NULL, NULL, NULL,
                                               G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  g_type_ensure (TPT_TYPE_FIELD_PAGE);
  g_type_ensure (TPT_TYPE_FINDINGS_PAGE);
  g_type_ensure (TPT_TYPE_SHELF_PAGE);
  g_type_ensure (TPT_TYPE_SORTING_PAGE);
  g_type_ensure (TPT_TYPE_WELCOME_PAGE);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-window.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, page_cb);
  gtk_widget_class_bind_template_callback (widget_class, hide_trouble_cb);
}

/* Closed from a submenu, the menu would keep the focus where no key reaches
 * the window any more. */
static void
menu_closed_cb (TptWindow *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->menu_button));
}

static void
tpt_window_init (TptWindow *self)
{
  g_autofree char *page = tpt_settings_get_text ("last-page");

  tpt_style_install ();
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (gtk_menu_button_get_popover (self->menu_button), "closed", G_CALLBACK (menu_closed_cb), self,
                           G_CONNECT_SWAPPED);
  tpt_window_add_actions (self);
  tpt_window_add_drop (self);
  tpt_window_update_recent (self);
  if (adw_view_stack_get_child_by_name (self->pages, page) != NULL)
    adw_view_stack_set_visible_child_name (self->pages, page);
  restore_size (self);
}

TptWindow *
tpt_window_new (AdwApplication *application)
{
  return g_object_new (TPT_TYPE_WINDOW, "application", application, NULL);
}
