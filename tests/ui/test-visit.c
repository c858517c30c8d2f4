#include "config.h"

#include <adwaita.h>

#include "form-helpers.h"
#include "tpt-bring-in-dialog.h"
#include "tpt-clock-check.h"
#include "tpt-job-undo.h"
#include "tpt-reading-row.h"
#include "tpt-style.h"
#include "tpt-toggle-bar.h"
#include "tpt-visit-dialog.h"

/* ALDER stands with K-1, F-1 and C-1 since March 2026; before, from January on,
 * a rig with K-1 and the card C-3 stood there. On the shelf: C-2, K-2. */
typedef struct {
  char *folder;
  char *path;
  TptProject *project;
  GtkWindow *parent;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("visit-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (f->path);
  UI_SAVE (f->project, "Add card", TPT_TABLE_UNITS, "unit", "C-2", "kind", "card", "capacity_gb", "16");
  UI_SAVE (f->project, "Add card", TPT_TABLE_UNITS, "unit", "C-3", "kind", "card");
  UI_SAVE (f->project, "Add camera", TPT_TABLE_UNITS, "unit", "K-2", "kind", "camera");
  UI_SAVE (f->project, "Cells", TPT_TABLE_UNITS, "unit", "K-1", "kind", "camera", "label", "Camera one", "chemistry", "nimh", "cell_size",
           "AA", "cells_series", "4", "cells_parallel", "2");
  UI_SAVE (f->project, "Shelf", TPT_TABLE_STOCK, "item", "S-1", "what", "cells", "cell_size", "AA", "chemistry", "nimh", "pieces", "20");
  UI_SAVE (f->project, "Set out", TPT_TABLE_DEPLOYMENTS, "deployment", "ALDER-0", "station", "ALDER", "start", "2026-01-02T10:00", "end",
           "2026-02-01T10:00");
  UI_SAVE (f->project, "Fit", TPT_TABLE_FITTINGS, "deployment", "ALDER-0", "unit", "K-1", "from", "2026-01-02T10:00", "to",
           "2026-02-01T10:00");
  UI_SAVE (f->project, "Fit", TPT_TABLE_FITTINGS, "deployment", "ALDER-0", "unit", "C-3", "from", "2026-01-02T10:00", "to",
           "2026-02-01T10:00");
  f->parent = GTK_WINDOW (gtk_window_new ());
  gtk_window_present (f->parent);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (f->parent);
  ui_settle ();
  g_clear_object (&f->project);
  g_remove (f->path);
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static gboolean
is_ready (gpointer dialog)
{
  return tpt_visit_dialog_is_ready (dialog);
}

static GtkWidget *
open_form (Fixture *f, const char *station, gboolean bring_in)
{
  GtkWidget *dialog = GTK_WIDGET (tpt_visit_dialog_new (f->parent, f->project, station, bring_in));

  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (is_ready, dialog);
  return dialog;
}

static void
undo (Fixture *f)
{
  g_autoptr (TptJobUndo) job = tpt_job_undo_new (FALSE);
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
}

static guint
count_rows (Fixture *f, TptTableId table)
{
  g_autoptr (GListModel) rows = look_up (f->project, table, NULL, NULL);

  return g_list_model_get_n_items (rows);
}

/* (nullable): the row of @unit in @root. */
static GtkWidget *
seek_row (GtkWidget *root, const char *unit)
{
  GtkWidget *row = find_inside (root, TPT_TYPE_READING_ROW);

  while (row != NULL && g_strcmp0 (tpt_record_get_code (tpt_reading_row_get_unit (TPT_READING_ROW (row))), unit) != 0)
    row = gtk_widget_get_next_sibling (row);
  return row;
}

static GtkWidget *
find_row (GtkWidget *root, const char *unit)
{
  GtkWidget *row = seek_row (root, unit);

  g_assert_nonnull (row);
  return row;
}

static void
toggle (GtkWidget *root, const char *label)
{
  GtkWidget *button = find_labelled (root, GTK_TYPE_TOGGLE_BUTTON, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

static void
choose (GtkWidget *root, const char *label, guint choice)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find_labelled (root, GTK_TYPE_DROP_DOWN, label)), choice);
}

static void
type (GtkWidget *root, const char *label, const char *text)
{
  GtkWidget *entry = find_labelled (root, GTK_TYPE_ENTRY, label);

  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

/* Sends a key to the controllers of @widget, as if it came from the keyboard. */
static gboolean
send_key (GtkWidget *widget, guint keyval)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);
  gboolean taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers) && !taken; i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
        g_signal_emit_by_name (controller, "key-pressed", keyval, 0u, 0, &taken);
    }
  return taken;
}

/* Nothing is said that nobody saw, but the usual. */
static void
test_usual (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog;
  g_autoptr (TptRecord) visit = NULL;

  UI_SAVE (f->project, "Visit", TPT_TABLE_VISITS, "visit", "V-0", "station", "BIRCH", "at", "2026-04-02T09:00", "people", "Ada and Nils");
  dialog = open_form (f, "BIRCH", FALSE);
  ui_settle ();
  g_assert_true (is_said_below (dialog, "Saves the visit without readings."));
  g_assert_true (is_said_below (dialog, "No rig stood here"));
  press_and_wait (dialog);
  {
    g_autoptr (GListModel) visits = look_up (f->project, TPT_TABLE_VISITS, "station", "BIRCH");
    visit = g_list_model_get_item (visits, 1);
  }
  g_assert_cmpstr (tpt_record_get_text (visit, "people"), ==, "Ada and Nils");
  g_assert_cmpstr (tpt_record_get_text (visit, "found"), ==, "working");
  g_assert_cmpstr (tpt_record_get_text (visit, "left"), ==, "working");
  g_assert_false (tpt_record_is_set (visit, "camera_clock"));
  dialog = open_form (f, "ALDER", FALSE);
  press_and_wait (dialog);
  g_assert_cmpuint (count_rows (f, TPT_TABLE_READINGS), ==, 0);
}

/* Keys in the row of the camera, and the reading they make. */
static void
test_row_keys (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *figure, *keys;
    const char *state, *action, *replacement;
    double percent, volts;
  } cases[] = {
    { "", "", NULL, NULL, NULL, NAN, NAN },
    { "62", "", NULL, NULL, NULL, 62, NAN },
    { "62", "w", "working", NULL, NULL, 62, NAN },
    { " 62 ", "", NULL, NULL, NULL, 62, NAN },
    { " ", "", NULL, NULL, NULL, NAN, NAN },
    { "5.9", "v", NULL, NULL, NULL, NAN, 5.9 },
    { "5.9", "v%", NULL, NULL, NULL, 5.9, NAN },
    { "", "d", "dead", NULL, NULL, NAN, NAN },
    { "", "dd", NULL, NULL, NULL, NAN, NAN },
    { "", "dw", "working", NULL, NULL, NAN, NAN },
    { "", "n", NULL, "none", NULL, NAN, NAN },
    { "", "s", NULL, "swapped", NULL, NAN, NAN },
    { "", "ss", NULL, "swapped", "K-2", NAN, NAN },
    { "", "sss", NULL, "swapped", NULL, NAN, NAN }, /* round to fresh cells */
    { "", "ssn", NULL, "none", NULL, NAN, NAN },
    { "", "H", NULL, "charged", NULL, NAN, NAN },
    { "7", "wl", "working", "cleaned", NULL, 7, NAN },
    { "", "r", NULL, "repaired", NULL, NAN, NAN },
    { "", "m", NULL, "removed", NULL, NAN, NAN },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "K-1");
      TptVisitLine *line;

      g_test_message ("“%s” and %s", cases[i].figure, cases[i].keys);
      gtk_widget_grab_focus (row);
      type (row, "Charge left in percent", cases[i].figure);
      for (const char *key = cases[i].keys; *key != '\0'; key++)
        g_assert_true (send_key (row, gdk_unicode_to_keyval (*key)));
      g_assert_false (send_key (row, GDK_KEY_1)); /* figures go where they are typed */
      line = tpt_reading_row_make_line (TPT_READING_ROW (row));
      if (line != NULL)
        {
          g_assert_cmpstr (tpt_record_get_text (line->reading, "state"), ==, cases[i].state);
          g_assert_cmpstr (tpt_record_get_text (line->reading, "action"), ==, cases[i].action);
          g_assert_cmpstr (tpt_record_get_text (line->reading, "replacement"), ==, cases[i].replacement);
          g_assert_true (tpt_record_get_real (line->reading, "percent") == cases[i].percent || isnan (cases[i].percent));
          g_assert_true (tpt_record_get_real (line->reading, "volts") == cases[i].volts || isnan (cases[i].volts));
          g_assert_cmpint (tpt_record_is_set (line->reading, "volts"), ==, !isnan (cases[i].volts));
        }
      else
        g_assert_true (cases[i].state == NULL && cases[i].action == NULL && isnan (cases[i].percent) && isnan (cases[i].volts));
      tpt_visit_line_free (line);
      gtk_window_destroy (GTK_WINDOW (dialog));
      ui_settle ();
    }
}

/* Enter and the arrows go from row to row and out at the end. */
static void
test_walk (Fixture *f, gconstpointer data)
{
  static const struct {
    guint key;
    const char *unit; /* whose row has the focus; NULL: what comes after the rig */
  } cases[] = {
    { GDK_KEY_Down, "F-1" }, { GDK_KEY_Up, "K-1" }, { GDK_KEY_Up, "K-1" }, { GDK_KEY_Down, "F-1" },
    { GDK_KEY_Down, "C-1" }, { GDK_KEY_Return, NULL },
  };
  GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "K-1");

  gtk_widget_grab_focus (row);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *focus;

      g_assert_true (send_key (row, cases[i].key));
      focus = gtk_root_get_focus (GTK_ROOT (dialog));
      row = cases[i].unit != NULL ? find_row (dialog, cases[i].unit) : find_labelled (dialog, GTK_TYPE_ENTRY, "Left");
      g_assert_true (gtk_widget_is_ancestor (focus, row));
    }
  /* Enter in a field of the visit walks on and does not record. */
  g_assert_true (send_key (dialog, GDK_KEY_Return));
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (dialog)), find_labelled (dialog, GTK_TYPE_ENTRY, "Notes")));
  g_assert_cmpuint (count_rows (f, TPT_TABLE_VISITS), ==, 1);
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

static gboolean
is_focus_in (GtkWidget *dialog, GtkWidget *place)
{
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (dialog));

  return focus != NULL && (focus == place || gtk_widget_is_ancestor (focus, place));
}

/* Tab goes from top to bottom and from left to right, whatever else shows. */
static void
test_tab (Fixture *f, gconstpointer data)
{
  struct {
    const char *row; /* NULL: of the visit itself */
    GType type;
    const char *label;
  } stops[] = {
    { NULL, GTK_TYPE_ENTRY, "When" },
    { NULL, GTK_TYPE_ENTRY, "Who" },
    { NULL, TPT_TYPE_TOGGLE_BAR, "Found" },
    { NULL, GTK_TYPE_ENTRY, "Frames on card" },
    { NULL, TPT_TYPE_TOGGLE_BAR, "Camera’s clock" },
    { NULL, GTK_TYPE_ENTRY, "Camera’s clock" },
    { NULL, GTK_TYPE_ENTRY, "True time" },
    { NULL, GTK_TYPE_BUTTON, "All were working" },
    { "K-1", GTK_TYPE_ENTRY, "Charge left in percent" },
    { "K-1", TPT_TYPE_TOGGLE_BAR, "State" },
    { "K-1", GTK_TYPE_DROP_DOWN, "Cause of harm" },
    { "K-1", TPT_TYPE_TOGGLE_BAR, "Done" },
    { "K-1", GTK_TYPE_DROP_DOWN, "Put in" },
    { "F-1", GTK_TYPE_ENTRY, "Charge left in percent" },
    { "F-1", TPT_TYPE_TOGGLE_BAR, "State" },
    { "F-1", TPT_TYPE_TOGGLE_BAR, "Done" },
    { "C-1", TPT_TYPE_TOGGLE_BAR, "Done" },
    { NULL, GTK_TYPE_ENTRY, "Left" },
    { NULL, GTK_TYPE_ENTRY, "Notes" },
  };
  GtkWidget *dialog = open_form (f, "ALDER", FALSE);

  toggle (dialog, "It is off");
  type (dialog, "Camera’s clock", "2026"); /* and why that is no time, below it */
  toggle (find_row (dialog, "K-1"), "Dead");
  toggle (find_row (dialog, "K-1"), "Swapped");
  ui_settle ();
  gtk_widget_grab_focus (find_labelled (dialog, GTK_TYPE_ENTRY, "When"));
  for (gsize i = 0; i < G_N_ELEMENTS (stops); i++)
    {
      GtkWidget *root = stops[i].row != NULL ? find_row (dialog, stops[i].row) : dialog;

      g_test_message ("%s %s", stops[i].row, stops[i].label);
      g_assert_true (is_focus_in (dialog, find_labelled (root, stops[i].type, stops[i].label)));
      gtk_widget_child_focus (dialog, GTK_DIR_TAB_FORWARD);
    }
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

/* Space answers at once, and the focus is where the next letter belongs. */
static void
test_space (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE), *bar;

  gtk_widget_grab_focus (find_labelled (dialog, GTK_TYPE_TOGGLE_BUTTON, "Clock is right"));
  bar = gtk_widget_get_parent (gtk_root_get_focus (GTK_ROOT (dialog)));
  g_assert_true (send_key (bar, GDK_KEY_Right));
  g_assert_true (send_key (bar, GDK_KEY_space));
  g_assert_cmpstr (tpt_toggle_bar_get (TPT_TOGGLE_BAR (bar)), ==, "wrong");
  g_assert_true (gtk_widget_is_ancestor (gtk_root_get_focus (GTK_ROOT (dialog)), find_labelled (dialog, GTK_TYPE_ENTRY, "Camera’s clock")));
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

/* One click each, for hands that have a mouse only. */
static void
test_clicks (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE);
  g_autoptr (TptRecord) camera = NULL, flash = NULL, count = NULL, visit = NULL;

  g_signal_emit_by_name (find_labelled (dialog, GTK_TYPE_BUTTON, "All were working"), "clicked");
  toggle (dialog, "Clock is right");
  g_signal_emit_by_name (find_labelled (find_row (dialog, "K-1"), GTK_TYPE_BUTTON, "50 percent left"), "clicked");
  toggle (find_row (dialog, "K-1"), "Swapped");
  toggle (find_row (dialog, "C-1"), "Nothing");
  type (dialog, "Frames on card", "412");
  g_assert_true (is_said_below (dialog, "8 AA NiMH from the shelf into K-1 (12 left)"));
  press_and_wait (dialog);
  camera = get_only (f->project, TPT_TABLE_READINGS, "unit", "K-1");
  flash = get_only (f->project, TPT_TABLE_READINGS, "unit", "F-1");
  count = get_only (f->project, TPT_TABLE_STOCK, "item", "S-1");
  g_assert_cmpstr (tpt_record_get_text (camera, "state"), ==, "working");
  g_assert_cmpfloat (tpt_record_get_real (camera, "percent"), ==, 50);
  g_assert_cmpstr (tpt_record_get_text (camera, "action"), ==, "swapped");
  g_assert_cmpstr (tpt_record_get_text (flash, "state"), ==, "working");
  g_assert_false (tpt_record_is_set (flash, "action"));
  g_assert_cmpint (tpt_record_get_integer (count, "pieces", -1), ==, 12);
  visit = get_only (f->project, TPT_TABLE_VISITS, "visit", tpt_record_get_text (camera, "visit"));
  g_assert_cmpint (tpt_record_get_integer (visit, "frames_on_card", -1), ==, 412);
  g_assert_cmpint (tpt_record_get_instant (visit, "true_clock"), ==, tpt_record_get_instant (visit, "at"));
  g_assert_true (tpt_record_is_set (visit, "camera_clock"));
  undo (f);
  g_assert_cmpuint (count_rows (f, TPT_TABLE_READINGS), ==, 0);
  g_object_unref (count);
  count = get_only (f->project, TPT_TABLE_STOCK, "item", "S-1");
  g_assert_cmpint (tpt_record_get_integer (count, "pieces", -1), ==, 20);
}

/* One card out, another in, at the moment of the visit. */
static void
test_swap_card (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "C-1");
  g_autoptr (TptRecord) out = NULL, in = NULL;

  g_assert_false (gtk_widget_get_mapped (find_labelled (row, GTK_TYPE_DROP_DOWN, "Put in")));
  toggle (row, "Swapped");
  choose (row, "Put in", 2); /* without a name, the same one, C-2 */
  g_assert_true (is_said_below (dialog, "C-1 out and C-2 in"));
  press_and_wait (dialog);
  out = get_only (f->project, TPT_TABLE_FITTINGS, "unit", "C-1");
  in = get_only (f->project, TPT_TABLE_FITTINGS, "unit", "C-2");
  g_assert_true (tpt_record_is_set (out, "to"));
  g_assert_cmpint (tpt_record_get_instant (in, "from"), ==, tpt_record_get_instant (out, "to"));
  g_assert_false (tpt_record_is_set (in, "to"));
  g_assert_cmpstr (tpt_record_get_text (in, "deployment"), ==, "ALDER-1");
}

/* Harm is asked for where there can be some, and goes into the unit's log. */
static void
test_harm (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *found;
    const char *state;  /* pressed in the row of the camera */
    gboolean asked;
    const char *what;   /* in the log */
  } cases[] = {
    { "Working", NULL, FALSE, NULL },
    { "Working", "Working", FALSE, NULL },
    { "Working", "Dead", TRUE, "failure" },
    { "Disturbed", NULL, TRUE, "damage" },
    { "Gone", NULL, TRUE, "loss" },
    { "Card full", NULL, FALSE, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "K-1");
      g_autoptr (TptRecord) entry = NULL;

      g_test_message ("found %s, camera %s", cases[i].found, cases[i].state);
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find_labelled (dialog, GTK_TYPE_TOGGLE_BUTTON, cases[i].found)), TRUE);
      if (cases[i].state != NULL)
        toggle (row, cases[i].state);
      ui_settle ();
      g_assert_cmpint (gtk_widget_get_mapped (find_labelled (row, GTK_TYPE_DROP_DOWN, "Cause of harm")), ==, cases[i].asked);
      if (cases[i].asked)
        choose (row, "Cause of harm", 1); /* moisture */
      press_and_wait (dialog);
      g_assert_cmpuint (count_rows (f, TPT_TABLE_UNIT_LOG), ==, cases[i].what != NULL);
      if (cases[i].what != NULL)
        {
          entry = get_only (f->project, TPT_TABLE_UNIT_LOG, "unit", "K-1");
          g_assert_cmpstr (tpt_record_get_text (entry, "what"), ==, cases[i].what);
          g_assert_cmpstr (tpt_record_get_text (entry, "cause"), ==, "moisture");
        }
      undo (f);
      g_assert_cmpuint (count_rows (f, TPT_TABLE_UNIT_LOG), ==, 0);
    }
}

/* Bringing in ends the deployment and everything fitted in it. */
static void
test_bring_in (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", TRUE);
  g_autoptr (TptRecord) deployment = NULL;
  g_autoptr (GListModel) fittings = NULL;

  toggle (find_row (dialog, "C-1"), "Swapped");
  g_assert_false (gtk_widget_get_mapped (find_labelled (find_row (dialog, "C-1"), GTK_TYPE_DROP_DOWN, "Put in")));
  g_assert_true (is_said_below (dialog, "3 units come in"));
  press_and_wait (dialog);
  deployment = get_only (f->project, TPT_TABLE_DEPLOYMENTS, "deployment", "ALDER-1");
  g_assert_true (tpt_record_is_set (deployment, "end"));
  fittings = look_up (f->project, TPT_TABLE_FITTINGS, "deployment", "ALDER-1");
  g_assert_cmpuint (g_list_model_get_n_items (fittings), ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (TptRecord) fitting = g_list_model_get_item (fittings, i);
      g_assert_cmpint (tpt_record_get_instant (fitting, "to"), ==, tpt_record_get_instant (deployment, "end"));
    }
}

static void
press_keys (GtkWidget *dialog, const char *name, const char *const *labels)
{
  GtkWidget *button = find_labelled (dialog, GTK_TYPE_MENU_BUTTON, name);

  gtk_menu_button_popup (GTK_MENU_BUTTON (button));
  ui_settle ();
  for (guint i = 0; labels[i] != NULL; i++)
    g_signal_emit_by_name (find_button (GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button))), labels[i]), "clicked");
  gtk_menu_button_popdown (GTK_MENU_BUTTON (button));
}

/* Figures and moments without a keyboard. */
static void
test_keypad (Fixture *f, gconstpointer data)
{
  static const char *const count[] = { "4", "1", "9", "⌫", "2", NULL };
  static const char *const moment[] = { "⌫", "⌫", ":", "0", "5", NULL };
  GtkWidget *dialog = open_form (f, "ALDER", FALSE);
  GtkEditable *when = GTK_EDITABLE (find_labelled (dialog, GTK_TYPE_ENTRY, "When"));

  press_keys (dialog, "Keys for: Frames on card", count);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_labelled (dialog, GTK_TYPE_ENTRY, "Frames on card"))), ==, "412");
  gtk_editable_set_text (when, "2026-05-14 07:3");
  press_keys (dialog, "Keys for: When", moment);
  g_assert_cmpstr (gtk_editable_get_text (when), ==, "2026-05-14 07:05");
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

typedef struct {
  GtkWidget *dialog;
  const char *unit;
  gboolean there;
} Row;

static gboolean
is_row (gpointer data)
{
  Row *row = data;

  return (seek_row (row->dialog, row->unit) != NULL) == row->there;
}

/* Told late: the rig of that time; what was typed of a unit in both stays. */
static void
test_told_late (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE);
  Row old = { dialog, "C-3", TRUE }, gone = { dialog, "K-1", FALSE };
  Saying saying = { dialog, "this lies in the future" };

  type (find_row (dialog, "K-1"), "Charge left in percent", "62");
  type (dialog, "When", "2026-01-15 09:00");
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog))); /* until its rig is known */
  ui_wait (is_row, &old);
  g_assert_null (seek_row (dialog, "F-1"));
  g_assert_null (seek_row (dialog, "C-1"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_labelled (find_row (dialog, "K-1"), GTK_TYPE_ENTRY, "Charge left in percent"))), ==,
                   "62");
  g_assert_true (gtk_widget_get_sensitive (find_save (dialog)));

  type (dialog, "When", "2199-01-15 09:00");
  ui_wait (is_said, &saying);
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));

  /* Between the two rigs there was none to read. */
  type (dialog, "When", "2026-02-15 09:00");
  ui_wait (is_row, &gone);
  g_assert_null (seek_row (dialog, "K-1"));
  saying.text = "one was set out on 1 March 2026";
  ui_wait (is_said, &saying);
  g_assert_true (gtk_widget_get_sensitive (find_save (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

static gboolean
has_no_spare (gpointer row)
{
  GtkWidget *choice = find_labelled (row, GTK_TYPE_DROP_DOWN, "Put in");

  return g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (choice))) == 3; /* two nameless, C-3 */
}

/* Somebody else takes the card meanwhile: it is not offered any more. */
static void
test_meanwhile (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "C-1");

  toggle (row, "Swapped");
  choose (row, "Put in", 2);
  UI_SAVE (f->project, "Set out", TPT_TABLE_DEPLOYMENTS, "deployment", "BIRCH-1", "station", "BIRCH", "start", "2026-03-05T10:00");
  UI_SAVE (f->project, "Fit", TPT_TABLE_FITTINGS, "deployment", "BIRCH-1", "unit", "C-2", "from", "2026-03-05T10:00");
  ui_wait (has_no_spare, row);
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (find_labelled (row, GTK_TYPE_DROP_DOWN, "Put in"))), ==, 0);
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

/* What cannot be is told where it is, and cannot be saved. */
static void
test_bad_figure (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "K-1");
  GtkWidget *entry = find_labelled (row, GTK_TYPE_ENTRY, "Charge left in percent");

  gtk_editable_set_text (GTK_EDITABLE (entry), "140");
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));
  ui_settle ();
  g_assert_true (is_said_below (row, "100"));
  gtk_editable_set_text (GTK_EDITABLE (entry), "14");
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_FALSE);
  g_assert_true (gtk_widget_get_sensitive (find_save (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

static void
test_clock_words (void)
{
  static const struct {
    gint64 ahead_ms;
    const char *words;
  } cases[] = {
    { 0, "The camera’s clock is right" },      { 499, "The camera’s clock is right" },
    { -192000, "The camera is 3 min 12 s slow" }, { 192000, "The camera is 3 min 12 s fast" },
    { 1000, "The camera is 1 s fast" },        { -59600, "The camera is 1 min 0 s slow" },
    { -7500000, "The camera is 2 h 5 min slow" }, { 86400000 + 3600000, "The camera is 1 d 1 h fast" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = tpt_clock_check_say (cases[i].ahead_ms);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* The difference is told while both are typed; both go on record as they are. */
static void
test_clock (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE);
  g_autoptr (GListModel) visits = NULL;
  g_autoptr (TptRecord) visit = NULL;
  TptInstant truth;

  toggle (dialog, "It is off");
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog))); /* half a clock check */
  type (dialog, "Camera’s clock", "2026-05-14 07:26:48");
  type (dialog, "True time", "2026-05-14 07:30");
  ui_settle ();
  g_assert_true (is_said_below (dialog, "The camera is 3 min 12 s slow"));
  press_and_wait (dialog);
  visits = look_up (f->project, TPT_TABLE_VISITS, "station", "ALDER");
  visit = g_list_model_get_item (visits, 1);
  truth = tpt_record_get_instant (visit, "true_clock");
  g_assert_cmpstr (tpt_record_get_text (visit, "camera_clock"), ==, "2026-05-14 07:26:48");
  g_assert_cmpint (truth, ==, tpt_instant_parse ("2026-05-14T05:30:00Z", NULL, NULL)); /* Berlin in summer, +02:00 */
}

static GtkWindow *
find_question (GtkWidget *dialog)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (window) && gtk_window_get_transient_for (window) == GTK_WINDOW (dialog))
        return window;
    }
  return NULL;
}

/* What is filled in does not go without a question; an untouched form does. */
static void
test_close (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE);
  gboolean gone = FALSE;

  g_object_weak_ref (G_OBJECT (dialog), gone_cb, &gone);
  gtk_window_close (GTK_WINDOW (dialog));
  ui_wait (is_true, &gone);

  dialog = open_form (f, "ALDER", FALSE);
  toggle (find_row (dialog, "K-1"), "Working");
  gtk_window_close (GTK_WINDOW (dialog));
  ui_settle ();
  g_assert_nonnull (find_question (dialog));
  adw_message_dialog_response (ADW_MESSAGE_DIALOG (find_question (dialog)), "back");
  ui_settle ();
  g_assert_true (gtk_widget_get_mapped (dialog));
  gone = FALSE;
  g_object_weak_ref (G_OBJECT (dialog), gone_cb, &gone);
  gtk_window_close (GTK_WINDOW (dialog));
  ui_settle ();
  adw_message_dialog_response (ADW_MESSAGE_DIALOG (find_question (dialog)), "drop");
  ui_wait (is_true, &gone);
  g_assert_cmpuint (count_rows (f, TPT_TABLE_VISITS), ==, 1);
}

/* Everything to press or type into: its height, and a name for those who listen. */
static guint
check_targets (GtkWidget *widget, guint n)
{
  gboolean target = (GTK_IS_BUTTON (widget) || GTK_IS_ENTRY (widget)) && gtk_widget_get_mapped (widget);

  if (target && gtk_widget_get_ancestor (widget, GTK_TYPE_POPOVER) == NULL)
    {
      g_test_message ("%s is %d high", G_OBJECT_TYPE_NAME (widget), gtk_widget_get_allocated_height (widget));
      g_assert_cmpint (gtk_widget_get_allocated_height (widget), >=, 40);
      g_assert_cmpint (gtk_widget_get_allocated_width (widget), >=, 36);
      n++;
    }
  if (target && GTK_IS_ENTRY (widget))
    g_assert_true (gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL));
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    n = check_targets (at, n);
  return n;
}

static void
test_targets (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog = open_form (f, "ALDER", FALSE), *row = find_row (dialog, "K-1");

  toggle (row, "Swapped");
  toggle (row, "Dead");
  toggle (dialog, "It is off");
  ui_settle ();
  g_assert_cmpuint (check_targets (dialog, 0), >, 30);
  gtk_test_accessible_assert_role (row, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_LABEL, "K-1");
  gtk_test_accessible_assert_state (find_labelled (row, GTK_TYPE_TOGGLE_BUTTON, "Dead"), GTK_ACCESSIBLE_STATE_PRESSED,
                                    GTK_ACCESSIBLE_TRISTATE_TRUE);
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_settle ();
}

/* A bar is one stop of the Tab key, and its letters choose. */
static void
test_toggle_bar (void)
{
  static const TptToggleChoice choices[] = { { "one", "_One" }, { "two", "T_wo" }, { "three", "Three" }, { NULL, NULL } };
  static const struct {
    gunichar letter;
    gboolean taken;
    const char *code;
  } cases[] = { { 'o', TRUE, "one" }, { 'W', TRUE, "two" }, { 't', FALSE, "two" }, { 'w', TRUE, NULL } };
  TptToggleBar *bar = g_object_ref_sink (tpt_toggle_bar_new ("Number", choices, FALSE));
  guint stops = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (tpt_toggle_bar_press (bar, cases[i].letter), ==, cases[i].taken);
      g_assert_cmpstr (tpt_toggle_bar_get (bar), ==, cases[i].code);
    }
  for (guint i = 0; choices[i].code != NULL; i++)
    stops += gtk_widget_get_focusable (GTK_WIDGET (tpt_toggle_bar_get_button (bar, choices[i].code)));
  g_assert_cmpuint (stops, ==, 1);
  gtk_test_accessible_assert_role (bar, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_test_accessible_assert_property (bar, GTK_ACCESSIBLE_PROPERTY_LABEL, "Number");
  gtk_test_accessible_assert_property (tpt_toggle_bar_get_button (bar, "two"), GTK_ACCESSIBLE_PROPERTY_LABEL, "Two");
  g_object_unref (bar);
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  tpt_style_install ();

  g_test_add_func ("/visit/toggle-bar", test_toggle_bar);
  g_test_add_func ("/visit/clock-words", test_clock_words);
  add ("/visit/usual", test_usual);
  add ("/visit/row-keys", test_row_keys);
  add ("/visit/walk", test_walk);
  add ("/visit/tab", test_tab);
  add ("/visit/space", test_space);
  add ("/visit/clicks", test_clicks);
  add ("/visit/swap-card", test_swap_card);
  add ("/visit/harm", test_harm);
  add ("/visit/keypad", test_keypad);
  add ("/visit/bring-in", test_bring_in);
  add ("/visit/told-late", test_told_late);
  add ("/visit/meanwhile", test_meanwhile);
  add ("/visit/bad-figure", test_bad_figure);
  add ("/visit/clock", test_clock);
  add ("/visit/close", test_close);
  add ("/visit/targets", test_targets);
  return g_test_run ();
}
