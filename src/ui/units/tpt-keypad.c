#include "config.h"

#include "tpt-keypad.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define COLUMNS 3

/* The signs of a moment come last; a blank stands between day and time. */
static const char keys[] = "789456123<0-: ";
#define N_COUNT_KEYS 11

static void
press_cb (TptField *field, GtkButton *button)
{
  char key = (char) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "key"));
  g_autofree char *text = tpt_field_get_text (field), *more = NULL;
  gsize length = strlen (text);

  if (key == '<')
    more = g_strndup (text, length > 0 ? (gsize) (g_utf8_prev_char (text + length) - text) : 0);
  else
    more = g_strdup_printf ("%s%c", text, key);
  tpt_field_set_text (field, more);
}

static GtkWidget *
make_key (TptField *field, char key)
{
  const char sign[] = { key, '\0' };
  GtkWidget *button = gtk_button_new_with_label (key == '<' ? "⌫" : key == ' ' ? _("Space") : sign);

  if (key == '<')
    gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Delete the last sign"), -1);
  g_object_set_data (G_OBJECT (button), "key", GINT_TO_POINTER ((int) key));
  gtk_widget_set_size_request (button, 48, 44);
  g_signal_connect_object (button, "clicked", G_CALLBACK (press_cb), field, G_CONNECT_SWAPPED);
  return button;
}

GtkWidget *
tpt_keypad_new (TptField *field, gboolean moment)
{
  GtkWidget *button = gtk_menu_button_new (), *popover = gtk_popover_new (), *grid = gtk_grid_new ();
  g_autofree char *name = g_strdup_printf (_("Keys for: %s"), _(tpt_field_get_column (field)->label));
  int n = moment ? (int) strlen (keys) : N_COUNT_KEYS;

  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 6);
  for (int i = 0; i < n; i++)
    gtk_grid_attach (GTK_GRID (grid), make_key (field, keys[i]), i % COLUMNS, i / COLUMNS, 1, 1);
  gtk_popover_set_child (GTK_POPOVER (popover), grid);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _("123"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_tooltip_text (button, _("Type with the mouse"));
  gtk_widget_set_can_focus (button, FALSE); /* with the button inside it */
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_add_css_class (button, "beside-field");
  return button;
}
