#include "config.h"

#include "tpt-card-row.h"

#include <glib/gi18n-lib.h>

#include "tpt-card-words.h"

struct _TptCardRow {
  GtkListBoxRow parent_instance;

  TptCard *card; /* (owned) */

  GtkImage *icon;
  GtkLabel *title, *state;
  GtkProgressBar *progress;
  GtkWidget *leave_out;
};

G_DEFINE_FINAL_TYPE (TptCardRow, tpt_card_row, GTK_TYPE_LIST_BOX_ROW)

static guint leave_out_signal;

static void
leave_out_cb (TptCardRow *self)
{
  g_signal_emit (self, leave_out_signal, 0);
}

static gboolean
delete_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  if (gtk_widget_get_sensitive (TPT_CARD_ROW (widget)->leave_out))
    leave_out_cb (TPT_CARD_ROW (widget));
  return TRUE;
}

static void
progress_cb (TptCardRow *self)
{
  gtk_progress_bar_set_fraction (self->progress, tpt_card_get_progress (self->card));
}

static void
changed_cb (TptCardRow *self)
{
  TptCardState state = tpt_card_get_state (self->card);
  g_autofree char *words = tpt_card_words_state (self->card);

  gtk_label_set_label (self->state, words);
  gtk_image_set_from_icon_name (self->icon, tpt_card_words_icon (self->card));
  gtk_widget_set_visible (GTK_WIDGET (self->progress), state == TPT_CARD_LOOKING || state == TPT_CARD_TAKING);
  gtk_widget_set_sensitive (self->leave_out, state != TPT_CARD_TAKING && state != TPT_CARD_QUEUED);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, tpt_card_get_title (self->card),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  progress_cb (self);
}

static void
tpt_card_row_dispose (GObject *object)
{
  TptCardRow *self = TPT_CARD_ROW (object);

  g_clear_object (&self->card);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_CARD_ROW);

  G_OBJECT_CLASS (tpt_card_row_parent_class)->dispose (object);
}

static void
tpt_card_row_class_init (TptCardRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_card_row_dispose;
  leave_out_signal = g_signal_new ("leave-out", TPT_TYPE_CARD_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/cards/tpt-card-row.ui");
  gtk_widget_class_bind_template_child (widget_class, TptCardRow, icon);
  gtk_widget_class_bind_template_child (widget_class, TptCardRow, title);
  gtk_widget_class_bind_template_child (widget_class, TptCardRow, state);
  gtk_widget_class_bind_template_child (widget_class, TptCardRow, progress);
  gtk_widget_class_bind_template_child (widget_class, TptCardRow, leave_out);
  gtk_widget_class_bind_template_callback (widget_class, leave_out_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Delete, 0, delete_cb, NULL);
}

static void
tpt_card_row_init (TptCardRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_card_row_new (TptCard *card)
{
  TptCardRow *self = g_object_new (TPT_TYPE_CARD_ROW, NULL);
  g_autofree char *leave_out = g_strdup_printf (_("Leave out %s"), tpt_card_get_title (card));

  self->card = g_object_ref (card);
  gtk_label_set_label (self->title, tpt_card_get_title (card));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->title), tpt_card_get_folder (card));
  gtk_widget_set_tooltip_text (self->leave_out, leave_out);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->leave_out), GTK_ACCESSIBLE_PROPERTY_LABEL, leave_out, -1);
  g_signal_connect_object (card, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (card, "progress", G_CALLBACK (progress_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
  return GTK_WIDGET (self);
}

TptCard *
tpt_card_row_get_card (TptCardRow *self)
{
  return self->card;
}
