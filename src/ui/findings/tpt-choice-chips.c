#include "config.h"

#include "tpt-choice-chips.h"

#include <glib/gi18n-lib.h>

#include "tpt-findings-words.h"

static const TptFindingsPart order[] = { TPT_PART_SPECIES, TPT_PART_STATIONS, TPT_PART_PERIOD, TPT_PART_HOURS, TPT_PART_OTHER };

#define N_CHIPS G_N_ELEMENTS (order)

struct _TptChoiceChips {
  GtkWidget parent_instance;

  GtkWidget *buttons[N_CHIPS];
  GtkLabel *labels[N_CHIPS];
  TptFindingsChoice *choice; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptChoiceChips, tpt_choice_chips, GTK_TYPE_WIDGET)

static void
clicked_cb (TptChoiceChips *self, GtkButton *button)
{
  for (guint i = 0; i < N_CHIPS; i++)
    if (self->buttons[i] == GTK_WIDGET (button) && self->choice != NULL)
      tpt_findings_choice_clear (self->choice, order[i]);
}

static void
tpt_choice_chips_dispose (GObject *object)
{
  TptChoiceChips *self = TPT_CHOICE_CHIPS (object);

  for (guint i = 0; i < N_CHIPS; i++)
    g_clear_pointer (&self->buttons[i], gtk_widget_unparent);
  g_clear_object (&self->choice);
  G_OBJECT_CLASS (tpt_choice_chips_parent_class)->dispose (object);
}

static void
tpt_choice_chips_class_init (TptChoiceChipsClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_choice_chips_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "choice-chips");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
add_button (TptChoiceChips *self, guint which)
{
  GtkWidget *button = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  GtkWidget *label = gtk_label_new ("");
  GtkWidget *cross = gtk_image_new_from_icon_name ("window-close-symbolic");

  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_image_set_pixel_size (GTK_IMAGE (cross), 12);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), cross);
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "chip");
  gtk_widget_set_visible (button, FALSE);
  g_signal_connect_object (button, "clicked", G_CALLBACK (clicked_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  self->buttons[which] = button;
  self->labels[which] = GTK_LABEL (label);
}

static void
tpt_choice_chips_init (TptChoiceChips *self)
{
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("What is chosen"), -1);
  for (guint i = 0; i < N_CHIPS; i++)
    add_button (self, i);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

static void
set_words (TptChoiceChips *self, guint which, const char *words)
{
  g_autofree char *label = g_strdup_printf (_("Leave out: %s"), words);

  gtk_label_set_label (self->labels[which], words);
  gtk_widget_set_tooltip_text (self->buttons[which], label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->buttons[which]), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/* Where the focus was is about to be hidden. */
static void
hand_focus_on (TptChoiceChips *self, TptFindingsPart parts)
{
  gboolean held = FALSE;

  for (guint i = 0; i < N_CHIPS; i++)
    held = held || (gtk_widget_has_focus (self->buttons[i]) && !(parts & order[i]));
  for (guint i = 0; held && i < N_CHIPS; i++)
    if (parts & order[i])
      {
        gtk_widget_set_visible (self->buttons[i], TRUE);
        held = !gtk_widget_grab_focus (self->buttons[i]);
      }
  if (held)
    gtk_widget_child_focus (gtk_widget_get_parent (GTK_WIDGET (self)), GTK_DIR_TAB_FORWARD);
}

void
tpt_choice_chips_show (TptChoiceChips *self, TptFindingsChoice *choice, TptZone *zone, TptNaming name_station,
                       TptNaming name_species, gpointer data)
{
  TptFindingsPart parts = tpt_findings_choice_get_parts (choice);

  g_set_object (&self->choice, choice);
  hand_focus_on (self, parts);
  for (guint i = 0; i < N_CHIPS; i++)
    {
      g_autofree char *words = tpt_findings_words_part (choice, order[i], zone, name_station, name_species, data);

      if (words != NULL)
        set_words (self, i, words);
      gtk_widget_set_visible (self->buttons[i], words != NULL);
    }
  gtk_widget_set_visible (GTK_WIDGET (self), parts != TPT_PART_NONE);
}
