#include "config.h"

#include "tpt-card-step.h"

#include "tpt-card-words.h"

static GtkWidget *
make_label (const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css != NULL)
    gtk_widget_add_css_class (label, css);
  return label;
}

GtkWidget *
tpt_card_step_new (const TptClockStep *step, TptZone *zone)
{
  GtkWidget *check = gtk_check_button_new (), *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *example = tpt_card_words_example (step, zone);

  gtk_box_append (GTK_BOX (words), make_label (step->says, NULL));
  gtk_box_append (GTK_BOX (words), make_label (example, "quiet"));
  gtk_widget_set_margin_start (words, 6);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_check_button_set_child (GTK_CHECK_BUTTON (check), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (check), GTK_ACCESSIBLE_PROPERTY_LABEL, step->says,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, example, -1);
  g_object_set_data_full (G_OBJECT (check), "step", g_strdup (step->id), g_free);
  return check;
}

const char *
tpt_card_step_get_id (GtkWidget *check)
{
  return g_object_get_data (G_OBJECT (check), "step");
}
