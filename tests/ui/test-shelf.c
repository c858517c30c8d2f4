#include "config.h"

#include <adwaita.h>

#include "tpt-figure-pane.h"
#include "tpt-job-undo.h"
#include "tpt-log-line.h"
#include "tpt-record-dialog.h"
#include "tpt-record-form.h"
#include "tpt-shelf-page.h"
#include "tpt-stock-list.h"
#include "tpt-stock-row.h"
#include "tpt-stock-words.h"
#include "tpt-style.h"
#include "tpt-unit-list.h"
#include "tpt-unit-page.h"
#include "tpt-unit-row.h"
#include "tpt-unit-words.h"
#include "ui-helpers.h"

/* --- words ------------------------------------------------------------- */

static TptRecord *
make (TptTableId table, const char *cells)
{
  g_auto (GStrv) parts = g_strsplit (cells, "|", -1);
  TptRecord *record = tpt_record_new (table);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_auto (GStrv) pair = g_strsplit (parts[i], "=", 2);

      g_assert_true (tpt_record_set_from_string (record, pair[0], pair[1], NULL, NULL));
    }
  return record;
}

static void
test_words (void)
{
  static const struct {
    TptTableId table;
    const char *cells;
    const char *words;
  } cases[] = {
    { TPT_TABLE_STOCK, "what=cells|cell_size=AA|chemistry=nimh|cell_mah=2000", "AA cells, NiMH, 2,000 mAh" },
    { TPT_TABLE_STOCK, "what=cells|label=Blue box|cell_size=AA|chemistry=alkaline", "Blue box, AA, alkaline" },
    { TPT_TABLE_STOCK, "what=card|capacity_gb=32", "Cards, 32 GB" },
    { TPT_TABLE_STOCK, "what=tape", "Tape" },
    { TPT_TABLE_STOCK, "what=other|label=Cable ties", "Cable ties" },
    { TPT_TABLE_UNITS, "unit=K1|kind=camera|chemistry=nimh|cell_size=AA|cells_series=8|cell_mah=2000", "8 × NiMH AA, 2,000 mAh a cell" },
    { TPT_TABLE_UNITS, "unit=F1|kind=flash|chemistry=alkaline|cells_series=4|cells_parallel=2", "2 strings of 4 × Alkaline" },
    { TPT_TABLE_UNITS, "unit=C1|kind=card|capacity_gb=32", "32 GB" },
    { TPT_TABLE_UNITS, "unit=H1|kind=housing", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecord) record = make (cases[i].table, cases[i].cells);
      g_autofree char *words = cases[i].table == TPT_TABLE_STOCK ? tpt_stock_words (record) : tpt_unit_words_cells (record);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* --- forms --------------------------------------------------------------- */

/* A form asks for what the row can have, and nothing else. */
static void
test_form (void)
{
  static const struct {
    TptTableId table;
    const char *what, *column;
    gboolean shows;
  } cases[] = {
    { TPT_TABLE_UNIT_LOG, "damage", "cause", TRUE },    { TPT_TABLE_UNIT_LOG, "failure", "cause", TRUE },
    { TPT_TABLE_UNIT_LOG, "loss", "cause", TRUE },      { TPT_TABLE_UNIT_LOG, "repair", "cause", FALSE },
    { TPT_TABLE_UNIT_LOG, "cleaning", "cause", FALSE }, { TPT_TABLE_UNIT_LOG, "", "cause", FALSE },
    { TPT_TABLE_STOCK, "cells", "cell_size", TRUE },    { TPT_TABLE_STOCK, "cells", "capacity_gb", FALSE },
    { TPT_TABLE_STOCK, "card", "capacity_gb", TRUE },   { TPT_TABLE_STOCK, "tape", "chemistry", FALSE },
    { TPT_TABLE_STOCK, "tape", "pieces", TRUE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecordForm) form = g_object_ref_sink (tpt_record_form_new (cases[i].table, NULL));

      tpt_field_set_text (tpt_record_form_get_field (form, "what"), cases[i].what);
      g_assert_cmpint (gtk_widget_get_visible (GTK_WIDGET (tpt_record_form_get_field (form, cases[i].column))), ==, cases[i].shows);
    }
}

/* Damage that turned out to be a repair has no cause any more. */
static void
test_form_lets_go (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("UTC", NULL);
  g_autoptr (TptRecordForm) form = g_object_ref_sink (tpt_record_form_new (TPT_TABLE_UNIT_LOG, zone));
  g_autoptr (TptRecord) entry = make (TPT_TABLE_UNIT_LOG, "entry=E1|unit=K1|at=2026-05-01T10:00Z|what=damage|cause=fall");
  g_autofree char *reason = NULL;

  tpt_record_form_load (form, entry);
  g_assert_true (tpt_record_form_is_valid (form));
  tpt_field_set_text (tpt_record_form_get_field (form, "what"), "repair");
  g_assert_true (tpt_record_form_check (form, &reason));
  g_assert_true (tpt_record_form_apply (form, entry));
  g_assert_cmpstr (tpt_record_get_text (entry, "what"), ==, "repair");
  g_assert_false (tpt_record_is_set (entry, "cause"));
  g_assert_cmpstr (tpt_record_get_text (entry, "unit"), ==, "K1");
}

/* --- the page ------------------------------------------------------------ */

typedef struct {
  char *folder;
  TptProject *project;
  GtkWidget *window;
  TptShelfPage *page;
} Fixture;

/* (transfer full): the project, opened anew with its clock standing still, so
 * that days are told without their year. Takes @project. */
static TptProject *
stop_clock (TptProject *project)
{
  g_autofree char *path = g_strdup (tpt_project_get_path (project));
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Stop the clock");
  GError *error = NULL;

  tpt_job_edit_set_setting (job, "clock_at", "2026-06-12T17:00:00+02:00");
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  g_object_unref (project);
  project = tpt_project_open (path, &error);
  g_assert_no_error (error);
  return project;
}

static void
fill (TptProject *project)
{
  UI_SAVE (project, "Add spare", TPT_TABLE_UNITS, "unit", "K-2", "kind", "camera", "label", "Camera two", "make", "Invented");
  UI_SAVE (project, "Add old", TPT_TABLE_UNITS, "unit", "T-9", "kind", "trigger", "label", "Old beam", "retired", "2026-01-10",
           "retire_cause", "animal");
  UI_SAVE (project, "Read camera", TPT_TABLE_READINGS, "visit", "V-1", "unit", "K-1", "state", "working", "percent", "58");
  UI_SAVE (project, "Harm", TPT_TABLE_UNIT_LOG, "entry", "E-1", "unit", "K-2", "at", "2026-04-02T09:00", "what", "damage", "cause",
           "moisture");
  UI_SAVE (project, "Stock", TPT_TABLE_STOCK, "item", "S-1", "what", "cells", "cell_size", "AA", "chemistry", "nimh", "pieces", "2",
           "place", "tray");
  UI_SAVE (project, "Stock", TPT_TABLE_STOCK, "item", "S-2", "what", "card", "capacity_gb", "32", "pieces", "1");
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autofree char *path = NULL;

  f->folder = g_dir_make_tmp ("shelf-XXXXXX", NULL);
  path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (path);
  fill (f->project);
  f->project = stop_clock (f->project);
  f->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (f->window), 1280, 800);
  f->page = TPT_SHELF_PAGE (tpt_shelf_page_new ());
  gtk_window_set_child (GTK_WINDOW (f->window), GTK_WIDGET (f->page));
  gtk_window_present (GTK_WINDOW (f->window));
  tpt_shelf_page_set_project (f->page, f->project);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->window));
  ui_settle ();
  g_remove (tpt_project_get_path (f->project));
  g_object_unref (f->project);
  g_rmdir (f->folder);
  g_free (f->folder);
}

typedef struct {
  GtkWidget *root;
  GType type;
  const char *text;
  gboolean gone;
} Wanted;

static gboolean
shows (gpointer data)
{
  Wanted *wanted = data;
  GtkWidget *part = ui_find (wanted->root, wanted->type);

  return (part != NULL && ui_find_label (part, wanted->text) != NULL) != wanted->gone;
}

/* Until a part of the page shows the label, or does no longer. */
static void
wait_for (Fixture *f, GType type, const char *text)
{
  g_test_message ("waiting for “%s”", text);
  ui_wait (shows, &(Wanted){ f->window, type, text, FALSE });
}

static void
wait_gone (Fixture *f, GType type, const char *text)
{
  g_test_message ("waiting for “%s” to go", text);
  ui_wait (shows, &(Wanted){ f->window, type, text, TRUE });
}

/* (transfer full): the codes of the rows that show, a blank between. */
static char *
list_shown (Fixture *f)
{
  GListModel *shown = tpt_unit_list_get_shown (TPT_UNIT_LIST (ui_find (f->window, TPT_TYPE_UNIT_LIST)));
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < g_list_model_get_n_items (shown); i++)
    {
      g_autoptr (TptUnitItem) item = g_list_model_get_item (shown, i);

      g_string_append_printf (text, "%s%s", i > 0 ? " " : "", tpt_unit_item_get_code (item));
    }
  return g_string_free (text, FALSE);
}

/* Every unit is reachable, wherever it is. */
static void
test_filters (Fixture *f, gconstpointer data)
{
  static const struct {
    TptUnitShow show;
    const char *kind, *search, *codes;
  } cases[] = {
    { TPT_UNIT_SHOW_SHELF, NULL, "", "K-2" },
    { TPT_UNIT_SHOW_RIG, NULL, "", "K-1 F-1 C-1" },
    { TPT_UNIT_SHOW_RETIRED, NULL, "", "T-9" },
    { TPT_UNIT_SHOW_ALL, NULL, "", "K-1 K-2 T-9 F-1 C-1" },
    { TPT_UNIT_SHOW_ALL, "camera", "", "K-1 K-2" },
    { TPT_UNIT_SHOW_RIG, "camera", "", "K-1" },
    { TPT_UNIT_SHOW_ALL, NULL, "BEAM", "T-9" },
    { TPT_UNIT_SHOW_ALL, NULL, "alder", "K-1 F-1 C-1" },
    { TPT_UNIT_SHOW_ALL, NULL, "invented", "K-2" },
    { TPT_UNIT_SHOW_SHELF, "flash", "", "" },
  };
  TptUnitList *list;

  wait_for (f, TPT_TYPE_UNIT_LIST, "Camera two");
  list = TPT_UNIT_LIST (ui_find (f->window, TPT_TYPE_UNIT_LIST));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *codes = NULL;

      tpt_unit_list_set_show (list, cases[i].show);
      tpt_unit_list_set_kind (list, cases[i].kind);
      gtk_editable_set_text (GTK_EDITABLE (ui_find (GTK_WIDGET (list), GTK_TYPE_SEARCH_ENTRY)), cases[i].search);
      ui_settle ();
      ui_settle ();
      codes = list_shown (f);
      g_assert_cmpstr (codes, ==, cases[i].codes);
    }
  g_assert_nonnull (ui_find_label (GTK_WIDGET (list), "No unit fits. Choose another place or kind, or clear the search."));
}

/* What is chosen from elsewhere shows, whatever the filters hid. */
static void
test_choose (Fixture *f, gconstpointer data)
{
  g_autofree char *codes = NULL;

  tpt_shelf_page_choose (f->page, "K-1"); /* before anything was read */
  wait_for (f, TPT_TYPE_UNIT_LIST, "Old beam");
  wait_for (f, TPT_TYPE_UNIT_PAGE, "At Alder ford since 1 March");
  g_assert_nonnull (ui_find_label (ui_find (f->window, TPT_TYPE_UNIT_PAGE), "58 % left on 1 April"));
  codes = list_shown (f);
  g_assert_cmpstr (codes, ==, "K-1 K-2 T-9 F-1 C-1");
  g_assert_nonnull (ui_find (f->window, TPT_TYPE_FIGURE_PANE));
}

/* The first on the shelf is shown, with its harm, and what cannot be said. */
static void
test_unit (Fixture *f, gconstpointer data)
{
  GtkWidget *page;

  wait_for (f, TPT_TYPE_UNIT_PAGE, "Camera two");
  page = ui_find (f->window, TPT_TYPE_UNIT_PAGE);
  g_assert_nonnull (ui_find_label (page, "Camera · K-2 · Invented"));
  g_assert_nonnull (ui_find_label (page, "On the shelf, never set out"));
  g_assert_nonnull (ui_find_label (page, "damage on 2 April: moisture"));
  g_assert_nonnull (ui_find_label (page, "Damage: moisture"));
  g_assert_nonnull (ui_find_label (page, "The charge: cannot say because no reading is on record, nor what cells it has."));
  g_assert_null (ui_find (page, TPT_TYPE_FIGURE_PANE));
}

static void
undo (Fixture *f)
{
  g_autoptr (TptJobUndo) job = tpt_job_undo_new (FALSE);
  GError *error = NULL;

  tpt_project_run (f->project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
}

/* The button of a row whose accessible name is @name. */
static GtkWidget *
find_named (GtkWidget *root, const char *name)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      gboolean is_it = GTK_IS_BUTTON (at) && g_strcmp0 (gtk_widget_get_tooltip_text (at), name) == 0;
      GtkWidget *found = is_it ? at : find_named (at, name);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* An entry is removed with one press and comes back with one undo. */
static void
test_entry (Fixture *f, gconstpointer data)
{
  GtkWidget *button;

  wait_for (f, TPT_TYPE_UNIT_PAGE, "Damage: moisture");
  button = find_named (f->window, "Remove the entry of 2 Apr");
  g_assert_nonnull (button);
  gtk_test_accessible_assert_property (button, GTK_ACCESSIBLE_PROPERTY_LABEL, "Remove the entry of 2 Apr");
  gtk_test_accessible_assert_property (find_named (f->window, "Edit the entry of 2 Apr…"), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Edit the entry of 2 Apr…");
  g_signal_emit_by_name (button, "clicked");
  wait_for (f, TPT_TYPE_UNIT_PAGE, "Nothing has been recorded about this unit yet.");
  undo (f);
  wait_for (f, TPT_TYPE_UNIT_PAGE, "Damage: moisture");
}

static GtkWidget *
find_dialog (void)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (toplevels, i);

      if (TPT_IS_RECORD_DIALOG (window))
        return GTK_WIDGET (window);
    }
  return NULL;
}

static GtkWidget *
find_labelled (GtkWidget *root, const char *label)
{
  GtkWidget *found = ui_find_label (root, label);

  g_assert_nonnull (found);
  return gtk_widget_get_ancestor (found, GTK_TYPE_BUTTON);
}

/* A new entry knows its unit and the day; the kind of thing is all it needs. */
static void
test_add_entry (Fixture *f, gconstpointer data)
{
  GtkWidget *dialog;
  TptRecordForm *form;

  wait_for (f, TPT_TYPE_UNIT_PAGE, "Damage: moisture");
  g_signal_emit_by_name (find_labelled (f->window, "Add entry…"), "clicked");
  dialog = find_dialog ();
  g_assert_nonnull (dialog);
  ui_settle ();
  form = TPT_RECORD_FORM (ui_find (dialog, TPT_TYPE_RECORD_FORM));
  g_assert_false (tpt_record_form_is_valid (form));
  tpt_field_set_text (tpt_record_form_get_field (form, "at"), "2026-04-05 10:00");
  tpt_field_set_text (tpt_record_form_get_field (form, "what"), "repair");
  tpt_field_set_text (tpt_record_form_get_field (form, "by"), "Ana");
  g_assert_true (tpt_record_form_is_valid (form));
  g_signal_emit_by_name (find_labelled (dialog, "Save"), "clicked");
  wait_for (f, TPT_TYPE_UNIT_PAGE, "Repair (Ana)");
  wait_gone (f, TPT_TYPE_UNIT_PAGE, "damage on 2 April: moisture");
  undo (f);
  wait_gone (f, TPT_TYPE_UNIT_PAGE, "Repair (Ana)");
}

static gboolean
counts (gpointer data)
{
  GtkWidget *list = ui_find (((Wanted *) data)->root, TPT_TYPE_STOCK_LIST);

  return list != NULL && ui_find_label (list, ((Wanted *) data)->text) != NULL;
}

/* Quick presses all count, and each can be taken back. */
static void
test_count (Fixture *f, gconstpointer data)
{
  GtkWidget *more, *less, *row;

  wait_for (f, TPT_TYPE_STOCK_LIST, "AA cells, NiMH");
  more = find_named (f->window, "One more: AA cells, NiMH");
  less = find_named (f->window, "One less: AA cells, NiMH");
  gtk_test_accessible_assert_property (more, GTK_ACCESSIBLE_PROPERTY_LABEL, "One more: AA cells, NiMH");
  gtk_test_accessible_assert_property (less, GTK_ACCESSIBLE_PROPERTY_LABEL, "One less: AA cells, NiMH");
  row = gtk_widget_get_ancestor (more, TPT_TYPE_STOCK_ROW);
  gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_LABEL, "AA cells, NiMH, 2 pieces, tray");
  for (int i = 0; i < 5; i++)
    g_signal_emit_by_name (more, "clicked");
  ui_wait (counts, &(Wanted){ f->window, 0, "7", FALSE });
  g_assert_true (gtk_widget_get_ancestor (find_named (f->window, "One more: AA cells, NiMH"), TPT_TYPE_STOCK_ROW) == row);
  undo (f);
  ui_wait (counts, &(Wanted){ f->window, 0, "6", FALSE });
  for (int i = 0; i < 6; i++)
    g_signal_emit_by_name (less, "clicked");
  ui_wait (counts, &(Wanted){ f->window, 0, "0", FALSE });
  g_assert_false (gtk_widget_is_sensitive (less));
  g_assert_true (gtk_widget_is_sensitive (more));
}

static void
test_stock (Fixture *f, gconstpointer data)
{
  GtkWidget *list;

  wait_for (f, TPT_TYPE_STOCK_LIST, "Cards, 32 GB");
  list = ui_find (f->window, TPT_TYPE_STOCK_LIST);
  g_assert_nonnull (ui_find_label (list, "Where cells are kept"));
  gtk_editable_set_text (GTK_EDITABLE (ui_find (list, GTK_TYPE_SEARCH_ENTRY)), "tray");
  wait_gone (f, TPT_TYPE_STOCK_LIST, "Cards, 32 GB");
  g_assert_nonnull (ui_find_label (list, "AA cells, NiMH"));
  gtk_editable_set_text (GTK_EDITABLE (ui_find (list, GTK_TYPE_SEARCH_ENTRY)), "");
  wait_for (f, TPT_TYPE_STOCK_LIST, "Cards, 32 GB");
  g_signal_emit_by_name (find_named (f->window, "Remove from the shelf: Cards, 32 GB"), "clicked");
  wait_gone (f, TPT_TYPE_STOCK_LIST, "Cards, 32 GB");
  undo (f);
  wait_for (f, TPT_TYPE_STOCK_LIST, "Cards, 32 GB");
}

/* A project that goes while its jobs run takes nothing down with it. */
static void
test_dropped (Fixture *f, gconstpointer data)
{
  tpt_shelf_page_set_project (f->page, NULL);
  ui_settle ();
  wait_for (f, TPT_TYPE_UNIT_PAGE, "Choose a unit on the left to see its charge and its log.");
  tpt_shelf_page_set_project (f->page, f->project);
  wait_for (f, TPT_TYPE_UNIT_PAGE, "Camera two");
}

static void
test_accessible (Fixture *f, gconstpointer data)
{
  GtkWidget *list, *row;

  wait_for (f, TPT_TYPE_UNIT_LIST, "Camera two");
  list = ui_find (f->window, TPT_TYPE_UNIT_LIST);
  row = ui_find (list, TPT_TYPE_UNIT_ROW);
  gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Camera two, Camera · K-2, On the shelf, never set out, damage on 2 April: moisture");
  gtk_test_accessible_assert_property (ui_find (list, GTK_TYPE_SEARCH_ENTRY), GTK_ACCESSIBLE_PROPERTY_LABEL, "Search units");
  gtk_test_accessible_assert_property (ui_find (list, GTK_TYPE_DROP_DOWN), GTK_ACCESSIBLE_PROPERTY_LABEL, "Where the units are");
  gtk_test_accessible_assert_property (ui_find (list, GTK_TYPE_LIST_VIEW), GTK_ACCESSIBLE_PROPERTY_LABEL, "Units");
}

static void
test_templates (void)
{
  const GType types[] = {
    TPT_TYPE_LOG_LINE, TPT_TYPE_SHELF_PAGE, TPT_TYPE_STOCK_LIST, TPT_TYPE_STOCK_ROW, TPT_TYPE_UNIT_LIST, TPT_TYPE_UNIT_PAGE,
    TPT_TYPE_UNIT_ROW,
  };

  ui_check_templates (types, G_N_ELEMENTS (types));
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  /* with-display.sh isolates the user's folders; without the system's the
   * toolkit finds no loader for its icons. */
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  tpt_style_install ();

  g_test_add_func ("/shelf/words", test_words);
  g_test_add_func ("/shelf/form", test_form);
  g_test_add_func ("/shelf/form-lets-go", test_form_lets_go);
  g_test_add_func ("/shelf/templates", test_templates);
  add ("/shelf/filters", test_filters);
  add ("/shelf/choose", test_choose);
  add ("/shelf/unit", test_unit);
  add ("/shelf/entry", test_entry);
  add ("/shelf/add-entry", test_add_entry);
  add ("/shelf/count", test_count);
  add ("/shelf/stock", test_stock);
  add ("/shelf/accessible", test_accessible);
  add ("/shelf/dropped", test_dropped);
  return g_test_run ();
}
