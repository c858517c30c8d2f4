#include "config.h"

#include "tpt-figure-pane.h"

#include <glib/gi18n-lib.h>

#include "tpt-table-view.h"

struct _TptFigurePane {
  GtkWidget parent_instance;

  GtkLabel *title;
  GtkBox *title_place;
  GtkLabel *reading;
  GtkLabel *summary;
  GtkBox *controls;
  GtkButton *copy;
  GtkToggleButton *table_toggle;
  GtkButton *ask;
  GtkToggleButton *larger_toggle;
  GtkStack *stack;
  TptFigureView *view;
  GtkBox *content_place;
  GtkLabel *note;
  TptTableView *table;
  TptTableView *other_table;

  TptFigure *other_figure; /* (owned) (nullable) */
  GtkWidget *content;      /* (not owned) (nullable): in its place */
  gboolean noted;
};

G_DEFINE_FINAL_TYPE (TptFigurePane, tpt_figure_pane, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_TITLE,
  PROP_LARGER,
  N_PROPS,
};

enum {
  SIGNAL_FIGURE_ASKED,
  N_SIGNALS,
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

/* The table is only made while somebody looks at it. */
static void
fill_table (TptFigurePane *self)
{
  TptFigure *figure = tpt_figure_view_get_figure (self->view), *other = self->other_figure;
  gboolean shown = gtk_toggle_button_get_active (self->table_toggle);

  tpt_table_view_take_table (self->table, shown && figure != NULL ? tpt_figure_table (figure) : NULL);
  tpt_table_view_take_table (self->other_table, shown && other != NULL ? tpt_figure_table (other) : NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->other_table), other != NULL);
}

static void
show_page (TptFigurePane *self)
{
  gboolean table = gtk_toggle_button_get_active (self->table_toggle);

  gtk_stack_set_visible_child_name (self->stack, table         ? "table"
                                                 : self->noted ? "note"
                                                 : self->content != NULL ? "content"
                                                                         : "figure");
  gtk_widget_set_visible (GTK_WIDGET (self->copy), table);
  /* Copy takes the room of what is pointed at, which a table has not. */
  gtk_widget_set_visible (GTK_WIDGET (self->reading), !table);
  gtk_widget_set_hexpand (GTK_WIDGET (self->title_place), table);
}

static void
table_toggled_cb (TptFigurePane *self)
{
  fill_table (self);
  show_page (self);
}

static void
copy_cb (TptFigurePane *self)
{
  g_autofree char *text = tpt_figure_pane_copy_table (self);

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", _("Table copied"));
}

static void
ask_cb (TptFigurePane *self)
{
  g_signal_emit (self, signals[SIGNAL_FIGURE_ASKED], 0);
}

static void
larger_cb (TptFigurePane *self)
{
  gboolean larger = tpt_figure_pane_get_larger (self);

  gtk_button_set_icon_name (GTK_BUTTON (self->larger_toggle), larger ? "view-restore-symbolic" : "view-fullscreen-symbolic");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->larger_toggle),
                               larger ? _("Show all panes again (F9)") : _("Give this pane all the room (F9)"));
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_LARGER]);
}

static void
title_pressed_cb (TptFigurePane *self, int n_press)
{
  if (n_press == 2 && gtk_widget_get_visible (GTK_WIDGET (self->larger_toggle)))
    tpt_figure_pane_set_larger (self, !tpt_figure_pane_get_larger (self));
}

static void
set_title (TptFigurePane *self, const char *title)
{
  g_autofree char *ask = g_strdup_printf (_("Figure of “%s”"), title);
  g_autofree char *table = g_strdup_printf (_("Table of “%s”"), title);
  g_autofree char *larger = g_strdup_printf (_("“%s” larger"), title);

  gtk_label_set_label (self->title, title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->ask), GTK_ACCESSIBLE_PROPERTY_LABEL, ask, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->table_toggle), GTK_ACCESSIBLE_PROPERTY_LABEL, table, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->larger_toggle), GTK_ACCESSIBLE_PROPERTY_LABEL, larger, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
}

static void
tpt_figure_pane_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_TITLE)
    g_value_set_string (value, gtk_label_get_label (TPT_FIGURE_PANE (object)->title));
  else if (id == PROP_LARGER)
    g_value_set_boolean (value, tpt_figure_pane_get_larger (TPT_FIGURE_PANE (object)));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_figure_pane_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_TITLE)
    set_title (TPT_FIGURE_PANE (object), g_value_get_string (value));
  else if (id == PROP_LARGER)
    tpt_figure_pane_set_larger (TPT_FIGURE_PANE (object), g_value_get_boolean (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_figure_pane_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FIGURE_PANE);
  g_clear_pointer (&TPT_FIGURE_PANE (object)->other_figure, tpt_figure_unref);
  G_OBJECT_CLASS (tpt_figure_pane_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child_full (widget_class, "head", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, title);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, title_place);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, reading);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, summary);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, controls);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, copy);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, table_toggle);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, ask);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, larger_toggle);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, stack);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, view);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, content_place);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, note);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, table);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, other_table);
}

static void
tpt_figure_pane_class_init (TptFigurePaneClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;

  object_class->dispose = tpt_figure_pane_dispose;
  object_class->get_property = tpt_figure_pane_get_property;
  object_class->set_property = tpt_figure_pane_set_property;
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, "", flags);
  properties[PROP_LARGER] = g_param_spec_boolean ("larger", NULL, NULL, FALSE, flags | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[SIGNAL_FIGURE_ASKED] = g_signal_new ("figure-asked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                               NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (TPT_TYPE_FIGURE_VIEW);
  g_type_ensure (TPT_TYPE_TABLE_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-figure-pane.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, copy_cb);
  gtk_widget_class_bind_template_callback (widget_class, table_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, ask_cb);
  gtk_widget_class_bind_template_callback (widget_class, larger_cb);
  gtk_widget_class_set_css_name (widget_class, "figure-pane");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
tpt_figure_pane_init (TptFigurePane *self)
{
  GtkGesture *press = gtk_gesture_click_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  g_object_bind_property (self->view, "reading", self->reading, "label", G_BINDING_DEFAULT);
  g_signal_connect_swapped (press, "pressed", G_CALLBACK (title_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->title), GTK_EVENT_CONTROLLER (press));
}

void
tpt_figure_pane_set_figure (TptFigurePane *self, TptFigure *figure)
{
  tpt_figure_view_set_figure (self->view, figure);
  fill_table (self);
}

void
tpt_figure_pane_set_other_figure (TptFigurePane *self, TptFigure *figure)
{
  TptFigure *before = self->other_figure;

  self->other_figure = figure != NULL ? tpt_figure_ref (figure) : NULL;
  g_clear_pointer (&before, tpt_figure_unref);
  fill_table (self);
}

void
tpt_figure_pane_set_content (TptFigurePane *self, GtkWidget *content)
{
  if (self->content == content)
    return;
  if (self->content != NULL)
    gtk_box_remove (self->content_place, self->content);
  self->content = content;
  if (content != NULL)
    gtk_box_append (self->content_place, content);
  show_page (self);
}

void
tpt_figure_pane_set_note (TptFigurePane *self, const char *note)
{
  self->noted = note != NULL;
  gtk_label_set_label (self->note, note != NULL ? note : "");
  show_page (self);
}

void
tpt_figure_pane_set_summary (TptFigurePane *self, const char *summary)
{
  gtk_label_set_label (self->summary, summary != NULL ? summary : "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->summary), summary);
  gtk_widget_set_visible (GTK_WIDGET (self->summary), summary != NULL);
}

void
tpt_figure_pane_set_waiting (TptFigurePane *self, gboolean waiting)
{
  if (waiting)
    gtk_widget_add_css_class (GTK_WIDGET (self->stack), "receding");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->stack), "receding");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_STATE_BUSY, waiting, -1);
}

void
tpt_figure_pane_add_control (TptFigurePane *self, GtkWidget *control)
{
  gtk_box_append (self->controls, control);
}

void
tpt_figure_pane_set_title_control (TptFigurePane *self, GtkWidget *control)
{
  gtk_widget_set_visible (GTK_WIDGET (self->title), FALSE);
  gtk_box_append (self->title_place, control);
}

void
tpt_figure_pane_set_growing (TptFigurePane *self, gboolean growing)
{
  gtk_widget_set_visible (GTK_WIDGET (self->larger_toggle), growing);
}

gboolean
tpt_figure_pane_get_larger (TptFigurePane *self)
{
  return gtk_toggle_button_get_active (self->larger_toggle);
}

void
tpt_figure_pane_set_larger (TptFigurePane *self, gboolean larger)
{
  gtk_toggle_button_set_active (self->larger_toggle, larger);
}

TptFigureView *
tpt_figure_pane_get_view (TptFigurePane *self)
{
  return self->view;
}

void
tpt_figure_pane_set_tabled (TptFigurePane *self, gboolean tabled)
{
  if (!tabled)
    gtk_toggle_button_set_active (self->table_toggle, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->table_toggle), tabled);
}

void
tpt_figure_pane_set_askable (TptFigurePane *self, gboolean askable)
{
  gtk_widget_set_visible (GTK_WIDGET (self->ask), askable);
}

void
tpt_figure_pane_set_table_shown (TptFigurePane *self, gboolean shown)
{
  gtk_toggle_button_set_active (self->table_toggle, shown);
}

char *
tpt_figure_pane_copy_table (TptFigurePane *self)
{
  g_autofree char *first = tpt_table_view_copy (self->table), *other = NULL;

  if (self->other_figure == NULL)
    return g_steal_pointer (&first);
  other = tpt_table_view_copy (self->other_table);
  return g_strconcat (first, "\n", other, NULL);
}
