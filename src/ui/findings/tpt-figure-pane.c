#include "config.h"

#include "tpt-figure-pane.h"

#include <glib/gi18n-lib.h>

#include "tpt-table-view.h"

struct _TptFigurePane {
  GtkWidget parent_instance;

  GtkLabel *title;
  GtkLabel *reading;
  GtkButton *copy;
  GtkToggleButton *table_toggle;
  GtkButton *ask;
  GtkStack *stack;
  TptFigureView *view;
  TptTableView *table;
};

G_DEFINE_FINAL_TYPE (TptFigurePane, tpt_figure_pane, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_TITLE,
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
  TptFigure *figure = tpt_figure_view_get_figure (self->view);
  gboolean shown = gtk_toggle_button_get_active (self->table_toggle);

  tpt_table_view_take_table (self->table, shown && figure != NULL ? tpt_figure_table (figure) : NULL);
}

static void
table_toggled_cb (TptFigurePane *self)
{
  gboolean shown = gtk_toggle_button_get_active (self->table_toggle);

  fill_table (self);
  gtk_stack_set_visible_child_name (self->stack, shown ? "table" : "figure");
  gtk_widget_set_visible (GTK_WIDGET (self->copy), shown);
}

static void
copy_cb (TptFigurePane *self)
{
  g_autofree char *text = tpt_table_view_copy (self->table);

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", _("Table copied"));
}

static void
ask_cb (TptFigurePane *self)
{
  g_signal_emit (self, signals[SIGNAL_FIGURE_ASKED], 0);
}

static void
set_title (TptFigurePane *self, const char *title)
{
  g_autofree char *ask = g_strdup_printf (_("Figure of “%s”"), title);
  g_autofree char *table = g_strdup_printf (_("Table of “%s”"), title);

  gtk_label_set_label (self->title, title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->ask), GTK_ACCESSIBLE_PROPERTY_LABEL, ask, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->table_toggle), GTK_ACCESSIBLE_PROPERTY_LABEL, table, -1);
}

static void
tpt_figure_pane_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_TITLE)
    g_value_set_string (value, gtk_label_get_label (TPT_FIGURE_PANE (object)->title));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_figure_pane_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_TITLE)
    set_title (TPT_FIGURE_PANE (object), g_value_get_string (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
tpt_figure_pane_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FIGURE_PANE);
  G_OBJECT_CLASS (tpt_figure_pane_parent_class)->dispose (object);
}

static void
tpt_figure_pane_class_init (TptFigurePaneClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_figure_pane_dispose;
  object_class->get_property = tpt_figure_pane_get_property;
  object_class->set_property = tpt_figure_pane_set_property;
  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, "", G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[SIGNAL_FIGURE_ASKED] = g_signal_new ("figure-asked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                               NULL, NULL, G_TYPE_NONE, 0);

  g_type_ensure (TPT_TYPE_FIGURE_VIEW);
  g_type_ensure (TPT_TYPE_TABLE_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-figure-pane.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "head", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, title);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, reading);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, copy);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, table_toggle);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, ask);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, stack);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, view);
  gtk_widget_class_bind_template_child (widget_class, TptFigurePane, table);
  gtk_widget_class_bind_template_callback (widget_class, copy_cb);
  gtk_widget_class_bind_template_callback (widget_class, table_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, ask_cb);
}

static void
tpt_figure_pane_init (TptFigurePane *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_object_bind_property (self->view, "reading", self->reading, "label", G_BINDING_DEFAULT);
}

void
tpt_figure_pane_set_figure (TptFigurePane *self, TptFigure *figure)
{
  tpt_figure_view_set_figure (self->view, figure);
  fill_table (self);
}

TptFigureView *
tpt_figure_pane_get_view (TptFigurePane *self)
{
  return self->view;
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
  return tpt_table_view_copy (self->table);
}
