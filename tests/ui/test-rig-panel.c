#include "config.h"

#include <adwaita.h>

#include "tpt-rig-panel.h"
#include "tpt-set-out-dialog.h"
#include "tpt-style.h"
#include "ui-helpers.h"

typedef struct {
  char *folder;
  char *path;
  TptProject *project;
  GtkWindow *window;
  GtkWidget *dialog;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("rig-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (f->path);
  UI_SAVE (f->project, "Add flash", TPT_TABLE_UNITS, "unit", "F-2", "kind", "flash", "power_fraction", "0.0625");
  UI_SAVE (f->project, "Add camera", TPT_TABLE_UNITS, "unit", "K-2", "kind", "camera", "label", "Camera two", "cell_mah", "2500",
           "cells_series", "4", "sleep_ma", "0.25", "awake_ma", "120", "awake_s", "18");
  UI_SAVE (f->project, "Add card", TPT_TABLE_UNITS, "unit", "C-2", "kind", "card", "capacity_gb", "32");
  f->window = GTK_WINDOW (adw_window_new ());
  gtk_window_present (f->window);
  f->dialog = GTK_WIDGET (tpt_set_out_dialog_new (f->window, f->project, "BIRCH"));
  gtk_window_present (GTK_WINDOW (f->dialog));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->dialog));
  gtk_window_destroy (f->window);
  ui_settle ();
  g_object_unref (f->project);
  g_remove (f->path);
  g_free (f->path);
  g_rmdir (f->folder);
  g_free (f->folder);
}

static gboolean
is_named (GtkWidget *widget, const char *label)
{
  g_autofree char *wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label);

  return wrong == NULL;
}

static GtkWidget *
find_named (GtkWidget *widget, GType type, const char *label)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (at, type) && is_named (at, label) ? at : find_named (at, type, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
type_in (Fixture *f, const char *label, const char *text)
{
  GtkWidget *entry = find_named (f->dialog, GTK_TYPE_ENTRY, label);

  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

static const char *
read_in (Fixture *f, const char *label)
{
  return gtk_editable_get_text (GTK_EDITABLE (find_named (f->dialog, GTK_TYPE_ENTRY, label)));
}

static GtkCheckButton *
find_check (GtkWidget *widget, const char *start)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkCheckButton *found = NULL;

      if (GTK_IS_CHECK_BUTTON (at) && g_str_has_prefix (gtk_check_button_get_label (GTK_CHECK_BUTTON (at)), start))
        return GTK_CHECK_BUTTON (at);
      found = find_check (at, start);
      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
has_shelf (gpointer data)
{
  return find_check (((Fixture *) data)->dialog, "F-2") != NULL;
}

static gboolean
has_rate (gpointer data)
{
  return *read_in (data, "Triggers a day expected") != '\0';
}

static GtkExpander *
find_expander (GtkWidget *widget)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkExpander *found = GTK_IS_EXPANDER (at) ? GTK_EXPANDER (at) : find_expander (at);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
open_panel (Fixture *f)
{
  GtkExpander *expander = find_expander (f->dialog);

  g_assert_false (gtk_expander_get_expanded (expander));
  gtk_expander_set_expanded (expander, TRUE);
  ui_wait (has_shelf, f);
  ui_wait (has_rate, f);
}

static void
assert_says (Fixture *f, const char *words)
{
  ui_settle ();
  if (ui_find_label (f->dialog, words) == NULL)
    g_error ("nothing says: %s", words);
}

/* Angle, width and depth of field as in the tests of the sums, from what is
 * typed in the form and in the panel. */
static void
test_picture (Fixture *f, gconstpointer data)
{
  open_panel (f);
  assert_says (f, "Cannot say what the camera sees because the size of the sensor is not known.");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find_named (f->dialog, GTK_TYPE_DROP_DOWN, "Size of the sensor")), 1);
  assert_says (f, "Cannot say what the camera sees because the focal length is not known.");
  type_in (f, "Focal length (mm)", "28");
  type_in (f, "Focus distance (m)", "5");
  type_in (f, "Distance of the beam (m)", "5");
  type_in (f, "f-number", "2.8");
  assert_says (f, "The camera sees 65° across and 46° up and down. At the beam, 5.0 m away, that is 6.4 m wide and 4.3 m high.");
  assert_says (f, "Sharp from 3.3 m to 10.7 m. Focused at 9.4 m (the hyperfocal distance), everything from half of that on is sharp.");
}

static void
test_flash (Fixture *f, gconstpointer data)
{
  GtkDropDown *power;

  open_panel (f);
  power = GTK_DROP_DOWN (find_named (f->dialog, GTK_TYPE_DROP_DOWN, "Power of the flash"));
  g_assert_cmpuint (gtk_drop_down_get_selected (power), ==, 0);
  gtk_check_button_set_active (find_check (f->dialog, "F-2"), TRUE);
  g_assert_cmpuint (gtk_drop_down_get_selected (power), ==, 4); /* 1/16, as the unit has it */
  type_in (f, "f-number", "4");
  type_in (f, "Guide number at ISO 100 (m)", "32");
  type_in (f, "Distance of the flash (m)", "4");
  type_in (f, "ISO", "100");
  assert_says (f, "At f/4.0 and 4.0 m the flash is 2.0 stops too dark; right would be f/2.0, or 2.0 m.");
  type_in (f, "ISO", "400");
  assert_says (f, "At f/4.0 and 4.0 m the flash exposes well; right would be f/4.0, or 4.0 m.");
}

/* 2,500 mAh, 18 mAh a day: 138.9 days; 8,000 frames, 60 a day: 133.3. */
static void
test_power (Fixture *f, gconstpointer data)
{
  open_panel (f);
  assert_says (f, "Cannot say how long the cells last because no unit is chosen whose charge and use are known.");
  gtk_check_button_set_active (find_check (f->dialog, "K-2"), TRUE);
  gtk_check_button_set_active (find_check (f->dialog, "C-2"), TRUE);
  type_in (f, "Triggers a day expected", "20");
  type_in (f, "Size of a frame (MB)", "4");
  assert_says (f, "By the plain sum the first to give out is Camera two, after about 138 days. Cells differ: the forecast gives a span "
                  "once the rig stands.");
  assert_says (f, "By the plain sum the card is full after about 133 days.");
}

/* A number that is none is shown as wrong and taken for unknown. */
static void
test_wrong (Fixture *f, gconstpointer data)
{
  GtkWidget *entry;

  open_panel (f);
  gtk_check_button_set_active (find_check (f->dialog, "K-2"), TRUE);
  type_in (f, "Triggers a day expected", "many");
  entry = find_named (f->dialog, GTK_TYPE_ENTRY, "Triggers a day expected");
  g_assert_true (gtk_widget_has_css_class (entry, "error"));
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
  assert_says (f, "Cannot say how long the cells last because the number of triggers a day is not known.");
  type_in (f, "Triggers a day expected", "7");
  g_assert_false (gtk_widget_has_css_class (entry, "error"));
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_FALSE);
}

#define ADD(path, func) g_test_add ("/ui/rig-panel/" path, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();
  ADD ("picture", test_picture);
  ADD ("flash", test_flash);
  ADD ("power", test_power);
  ADD ("wrong", test_wrong);
  return g_test_run ();
}
