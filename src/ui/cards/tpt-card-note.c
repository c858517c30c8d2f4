#include "config.h"

#include "tpt-card-note.h"

#include <glib/gi18n-lib.h>

static const struct {
  const char *icon;
  const char *name;
  const char *css; /* nullable */
} kinds[] = {
  [TPT_CARD_NOTE_GOOD] = { "object-select-symbolic", N_("Good"), "good-news" },
  [TPT_CARD_NOTE_CAUTION] = { "dialog-warning-symbolic", N_("Warning"), "caution" },
  [TPT_CARD_NOTE_TROUBLE] = { "dialog-error-symbolic", N_("Trouble"), "caution" },
};

static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  return label;
}

GtkWidget *
tpt_card_note_new_titled (TptCardNoteKind kind, const char *title, const char *text)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10), *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  GtkWidget *icon = gtk_image_new_from_icon_name (kinds[kind].icon);

  gtk_widget_set_valign (icon, GTK_ALIGN_START);
  gtk_widget_set_margin_top (icon, 2);
  gtk_accessible_update_property (GTK_ACCESSIBLE (icon), GTK_ACCESSIBLE_PROPERTY_LABEL, _(kinds[kind].name), -1);
  gtk_box_append (GTK_BOX (box), icon);
  if (title != NULL)
    {
      GtkWidget *label = make_label (title);

      gtk_widget_add_css_class (label, "strong");
      gtk_box_append (GTK_BOX (words), label);
    }
  if (text != NULL)
    gtk_box_append (GTK_BOX (words), make_label (text));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (box), words);
  gtk_widget_add_css_class (box, kinds[kind].css);
  return box;
}

GtkWidget *
tpt_card_note_new (TptCardNoteKind kind, const char *text)
{
  return tpt_card_note_new_titled (kind, NULL, text);
}

void
tpt_card_note_clear (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}
