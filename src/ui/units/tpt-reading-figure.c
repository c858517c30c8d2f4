#include "config.h"

#include "tpt-reading-figure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-number.h"

static const int shares[] = { 25, 50, 75, 100 };

struct _TptReadingFigure {
  GtkWidget parent_instance;

  GtkEntry *entry;
  GtkButton *measure; /* % or V */
  gboolean volts;
  char *error; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptReadingFigure, tpt_reading_figure, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  SIGNAL_ACTIVATE,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* NAN for nothing, and for what is no such figure. */
static double
read_value (TptReadingFigure *self, GError **error)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  double value = NAN;

  if (*text != '\0')
    tpt_number_parse_real (text, 0, self->volts ? 1000 : 100, &value, error);
  return value;
}

static void
changed_cb (TptReadingFigure *self)
{
  g_autoptr (GError) error = NULL;

  read_value (self, &error);
  g_free (self->error);
  self->error = error != NULL ? g_strdup (error->message) : NULL;
  (error != NULL ? gtk_widget_add_css_class : gtk_widget_remove_css_class) (GTK_WIDGET (self->entry), "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               error != NULL ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  error != NULL ? error->message : "", -1);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
activate_cb (TptReadingFigure *self)
{
  g_signal_emit (self, signals[SIGNAL_ACTIVATE], 0);
}

static void
set_measure (TptReadingFigure *self, gboolean volts)
{
  self->volts = volts;
  gtk_button_set_label (self->measure, volts ? _("V") : _("%"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->measure), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  volts ? _("Read in volts; change to percent") : _("Read in percent; change to volts"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  volts ? _("Reading in volts") : _("Charge left in percent"), -1);
  changed_cb (self);
}

static void
measure_cb (TptReadingFigure *self)
{
  set_measure (self, !self->volts);
}

static void
share_cb (TptReadingFigure *self, GtkButton *button)
{
  g_autofree char *text = g_strdup_printf ("%d", GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "share")));

  if (self->volts)
    set_measure (self, FALSE);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
}

static gboolean
tpt_reading_figure_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (TPT_READING_FIGURE (widget)->entry));
}

static void
tpt_reading_figure_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_pointer (&TPT_READING_FIGURE (object)->error, g_free);

  G_OBJECT_CLASS (tpt_reading_figure_parent_class)->dispose (object);
}

static void
tpt_reading_figure_class_init (TptReadingFigureClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_reading_figure_dispose;
  GTK_WIDGET_CLASS (klass)->grab_focus = tpt_reading_figure_grab_focus;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_ACTIVATE] =
    g_signal_new ("activate", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

/* The entry and what it is in; V and % do for the keyboard what the button does. */
static void
add_entry (TptReadingFigure *self)
{
  GtkWidget *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  self->entry = GTK_ENTRY (gtk_entry_new ());
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 5);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 5);
  self->measure = GTK_BUTTON (gtk_button_new ());
  gtk_widget_set_focusable (GTK_WIDGET (self->measure), FALSE);
  gtk_widget_add_css_class (GTK_WIDGET (self->measure), "narrow");
  gtk_widget_add_css_class (pair, "linked");
  gtk_box_append (GTK_BOX (pair), GTK_WIDGET (self->entry));
  gtk_box_append (GTK_BOX (pair), GTK_WIDGET (self->measure));
  gtk_widget_set_parent (pair, GTK_WIDGET (self));
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect_swapped (self->measure, "clicked", G_CALLBACK (measure_cb), self);
}

/* The entry is quicker by keys: these are not on the way of Tab. */
static void
add_shares (TptReadingFigure *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_widget_add_css_class (box, "linked");
  for (gsize i = 0; i < G_N_ELEMENTS (shares); i++)
    {
      g_autofree char *text = g_strdup_printf ("%d", shares[i]), *name = g_strdup_printf (_("%d percent left"), shares[i]);
      GtkWidget *button = gtk_button_new_with_label (text);

      gtk_widget_set_focusable (button, FALSE);
      gtk_widget_add_css_class (button, "narrow");
      gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
      g_object_set_data (G_OBJECT (button), "share", GINT_TO_POINTER (shares[i]));
      g_signal_connect_swapped (button, "clicked", G_CALLBACK (share_cb), self);
      gtk_box_append (GTK_BOX (box), button);
    }
  gtk_widget_set_parent (box, GTK_WIDGET (self));
}

static void
tpt_reading_figure_init (TptReadingFigure *self)
{
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self))), 6);
  add_entry (self);
  add_shares (self);
}

TptReadingFigure *
tpt_reading_figure_new (gboolean volts)
{
  TptReadingFigure *self = g_object_new (TPT_TYPE_READING_FIGURE, NULL);

  set_measure (self, volts);
  return self;
}

double
tpt_reading_figure_get_percent (TptReadingFigure *self)
{
  return self->volts ? NAN : read_value (self, NULL);
}

double
tpt_reading_figure_get_volts (TptReadingFigure *self)
{
  return self->volts ? read_value (self, NULL) : NAN;
}

const char *
tpt_reading_figure_get_error (TptReadingFigure *self)
{
  return self->error;
}

gboolean
tpt_reading_figure_press (TptReadingFigure *self, gunichar letter)
{
  if (g_unichar_tolower (letter) != 'v' && letter != '%')
    return FALSE;
  set_measure (self, letter != '%');
  return TRUE;
}
