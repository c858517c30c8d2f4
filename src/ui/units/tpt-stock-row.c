#include "config.h"

#include "tpt-stock-row.h"

#include <glib/gi18n-lib.h>

#include "tpt-stock-words.h"
#include "tpt-words.h"

struct _TptStockRow {
  GtkListBoxRow parent_instance;

  TptRecord *item; /* (owned) */

  GtkLabel *title;
  GtkLabel *place;
  GtkWidget *less;
  GtkLabel *pieces;
  GtkWidget *more;
  GtkWidget *edit;
  GtkWidget *remove;
};

G_DEFINE_FINAL_TYPE (TptStockRow, tpt_stock_row, GTK_TYPE_LIST_BOX_ROW)

enum {
  SIGNAL_COUNT_ASKED,
  SIGNAL_EDIT_ASKED,
  SIGNAL_REMOVE_ASKED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
less_cb (TptStockRow *self)
{
  g_signal_emit (self, signals[SIGNAL_COUNT_ASKED], 0, (gint64) -1);
}

static void
more_cb (TptStockRow *self)
{
  g_signal_emit (self, signals[SIGNAL_COUNT_ASKED], 0, (gint64) 1);
}

static void
edit_cb (TptStockRow *self)
{
  g_signal_emit (self, signals[SIGNAL_EDIT_ASKED], 0);
}

static void
remove_cb (TptStockRow *self)
{
  g_signal_emit (self, signals[SIGNAL_REMOVE_ASKED], 0);
}

/* With the keyboard on the row: what its buttons do, as far as they can. */
static gboolean
press_key_cb (GtkWidget *widget, GVariant *which, gpointer data)
{
  TptStockRow *self = TPT_STOCK_ROW (widget);
  GtkWidget *const buttons[] = { self->less, self->more, self->edit, self->remove };
  GtkWidget *button = buttons[g_variant_get_int32 (which)];

  if (gtk_widget_is_sensitive (button))
    g_signal_emit_by_name (button, "clicked");
  return TRUE;
}

static void
tpt_stock_row_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_STOCK_ROW);
  g_clear_object (&TPT_STOCK_ROW (object)->item);

  G_OBJECT_CLASS (tpt_stock_row_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, title);
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, place);
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, less);
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, pieces);
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, more);
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, edit);
  gtk_widget_class_bind_template_child (widget_class, TptStockRow, remove);
  gtk_widget_class_bind_template_callback (widget_class, less_cb);
  gtk_widget_class_bind_template_callback (widget_class, more_cb);
  gtk_widget_class_bind_template_callback (widget_class, edit_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_cb);
}

static void
bind_keys (GtkWidgetClass *widget_class)
{
  static const struct {
    guint key;
    gint32 button; /* as in press_key_cb() */
  } keys[] = {
    { GDK_KEY_minus, 0 }, { GDK_KEY_KP_Subtract, 0 }, { GDK_KEY_plus, 1 },   { GDK_KEY_KP_Add, 1 },
    { GDK_KEY_Return, 2 }, { GDK_KEY_KP_Enter, 2 },   { GDK_KEY_Delete, 3 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_widget_class_add_binding (widget_class, keys[i].key, 0, press_key_cb, "i", keys[i].button);
}

static void
tpt_stock_row_class_init (TptStockRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_stock_row_dispose;

  signals[SIGNAL_COUNT_ASKED] =
    g_signal_new ("count-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[SIGNAL_EDIT_ASKED] = g_signal_new ("edit-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_REMOVE_ASKED] = g_signal_new ("remove-asked", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-stock-row.ui");
  bind_children (widget_class);
  bind_keys (widget_class);
}

static void
tpt_stock_row_init (TptStockRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_stock_row_new (void)
{
  return g_object_new (TPT_TYPE_STOCK_ROW, NULL);
}

static void
name_button (GtkWidget *button, char *name /* (transfer full) */)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_tooltip_text (button, name);
  g_free (name);
}

static void
show_buttons (TptStockRow *self, const char *words, gint64 pieces, gboolean writable)
{
  gtk_widget_set_sensitive (self->less, writable && pieces > 0);
  gtk_widget_set_sensitive (self->more, writable);
  gtk_widget_set_sensitive (self->edit, writable);
  gtk_widget_set_sensitive (self->remove, writable);
  name_button (self->less, g_strdup_printf (_("One less: %s"), words));
  name_button (self->more, g_strdup_printf (_("One more: %s"), words));
  name_button (self->edit, g_strdup_printf (_("Edit: %s…"), words));
  name_button (self->remove, g_strdup_printf (_("Remove from the shelf: %s"), words));
}

void
tpt_stock_row_show (TptStockRow *self, TptRecord *item, gboolean writable)
{
  g_autofree char *words = tpt_stock_words (item);
  const char *where = tpt_record_get_text (item, "place"), *notes = tpt_record_get_text (item, "notes");
  gint64 pieces = tpt_record_get_integer (item, "pieces", 0);
  g_autofree char *number = tpt_words_number ((double) pieces);
  g_autofree char *counted = g_strdup_printf (ngettext ("%s piece", "%s pieces", (gulong) pieces), number);
  g_autofree char *whole = g_strjoin (", ", words, counted, where, NULL);

  g_set_object (&self->item, item);
  gtk_label_set_label (self->title, words);
  gtk_label_set_label (self->place, where != NULL ? where : notes != NULL ? notes : "");
  gtk_widget_set_visible (GTK_WIDGET (self->place), where != NULL || notes != NULL);
  gtk_label_set_label (self->pieces, number);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->pieces), GTK_ACCESSIBLE_PROPERTY_LABEL, counted, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, whole, -1);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->title), notes);
  show_buttons (self, words, pieces, writable);
}

TptRecord *
tpt_stock_row_get_item (TptStockRow *self)
{
  return self->item;
}
