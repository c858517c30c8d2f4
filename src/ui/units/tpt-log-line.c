#include "config.h"

#include "tpt-log-line.h"

#include <glib/gi18n-lib.h>

#include "tpt-format.h"

struct _TptLogLine {
  GtkListBoxRow parent_instance;

  TptLogItem *item; /* (owned) */

  GtkLabel *day;
  GtkLabel *text;
  GtkWidget *buttons;
  GtkWidget *edit;
  GtkWidget *remove;
};

G_DEFINE_FINAL_TYPE (TptLogLine, tpt_log_line, GTK_TYPE_LIST_BOX_ROW)

enum {
  SIGNAL_EDIT_ASKED,
  SIGNAL_REMOVE_ASKED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
edit_cb (TptLogLine *self)
{
  g_signal_emit (self, signals[SIGNAL_EDIT_ASKED], 0, tpt_log_item_get_entry (self->item));
}

static void
remove_cb (TptLogLine *self)
{
  g_signal_emit (self, signals[SIGNAL_REMOVE_ASKED], 0, tpt_log_item_get_entry (self->item));
}

/* With the keyboard on the line: Enter edits, Delete removes. */
static gboolean
press_key_cb (GtkWidget *widget, GVariant *removes, gpointer data)
{
  TptLogLine *self = TPT_LOG_LINE (widget);

  if (!gtk_widget_get_visible (self->buttons))
    return FALSE;
  if (g_variant_get_boolean (removes))
    remove_cb (self);
  else
    edit_cb (self);
  return TRUE;
}

static void
tpt_log_line_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_LOG_LINE);
  g_clear_object (&TPT_LOG_LINE (object)->item);

  G_OBJECT_CLASS (tpt_log_line_parent_class)->dispose (object);
}

static void
tpt_log_line_class_init (TptLogLineClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_log_line_dispose;

  signals[SIGNAL_EDIT_ASKED] =
    g_signal_new ("edit-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, TPT_TYPE_RECORD);
  signals[SIGNAL_REMOVE_ASKED] =
    g_signal_new ("remove-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, TPT_TYPE_RECORD);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-log-line.ui");
  gtk_widget_class_bind_template_child (widget_class, TptLogLine, day);
  gtk_widget_class_bind_template_child (widget_class, TptLogLine, text);
  gtk_widget_class_bind_template_child (widget_class, TptLogLine, buttons);
  gtk_widget_class_bind_template_child (widget_class, TptLogLine, edit);
  gtk_widget_class_bind_template_child (widget_class, TptLogLine, remove);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Return, 0, press_key_cb, "b", FALSE);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_KP_Enter, 0, press_key_cb, "b", FALSE);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Delete, 0, press_key_cb, "b", TRUE);
  gtk_widget_class_bind_template_callback (widget_class, edit_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_cb);
}

static void
tpt_log_line_init (TptLogLine *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
name_button (GtkWidget *button, char *name /* (transfer full) */)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_tooltip_text (button, name);
  g_free (name);
}

GtkWidget *
tpt_log_line_new (TptLogItem *item, TptZone *zone, TptInstant now, gboolean writable)
{
  TptLogLine *self = g_object_new (TPT_TYPE_LOG_LINE, NULL);
  g_autofree char *day = tpt_format_day_short (tpt_log_item_get_at (item), zone, now);
  g_autofree char *whole = g_strdup_printf ("%s: %s", day, tpt_log_item_get_text (item));

  self->item = g_object_ref (item);
  gtk_label_set_label (self->day, day);
  gtk_label_set_label (self->text, tpt_log_item_get_text (item));
  gtk_widget_set_visible (self->buttons, writable && tpt_log_item_get_entry (item) != NULL);
  name_button (self->edit, g_strdup_printf (_("Edit the entry of %s…"), day));
  name_button (self->remove, g_strdup_printf (_("Remove the entry of %s"), day));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
  return GTK_WIDGET (self);
}
