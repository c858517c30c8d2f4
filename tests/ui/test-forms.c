#include "config.h"

#include <adwaita.h>

#include "tpt-field.h"
#include "tpt-import-dialog.h"
#include "tpt-job-lookup.h"
#include "tpt-job-undo.h"
#include "tpt-new-project-dialog.h"
#include "tpt-record-dialog.h"
#include "tpt-record-form.h"
#include "tpt-search.h"
#include "tpt-set-out-dialog.h"
#include "form-helpers.h"

typedef struct {
  char *folder;
  char *path;
  TptProject *project;
  GtkWindow *parent;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("forms-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (f->path);
  UI_SAVE (f->project, "Add card", TPT_TABLE_UNITS, "unit", "C-2", "kind", "card", "capacity_gb", "16");
  UI_SAVE (f->project, "Add camera", TPT_TABLE_UNITS, "unit", "K-2", "kind", "camera");
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

static TptField *
make_field (TptTableId id, const char *column, TptZone *zone)
{
  const TptTable *table = tpt_table_get (id);

  return g_object_ref_sink (tpt_field_new (&table->columns[tpt_table_find (table, column)], zone));
}

/* Typed text and what the field says to it. */
static void
test_validation (Fixture *f, gconstpointer data)
{
  static const struct {
    TptTableId table;
    const char *column;
    const char *text;
    const char *says; /* NULL: taken */
  } cases[] = {
    { TPT_TABLE_STATIONS, "latitude", "2.4128", NULL },
    { TPT_TABLE_STATIONS, "latitude", "", NULL },
    { TPT_TABLE_STATIONS, "latitude", "91", "between" },
    { TPT_TABLE_STATIONS, "latitude", "2,41", "comma" },
    { TPT_TABLE_STATIONS, "latitude", "nan", "not a number" },
    { TPT_TABLE_STATIONS, "longitude", "-180", NULL },
    { TPT_TABLE_STATIONS, "station", "OTTER", NULL },
    { TPT_TABLE_STATIONS, "station", "", "needed" },
    { TPT_TABLE_UNITS, "cells_series", "4.5", "whole number" },
    { TPT_TABLE_UNITS, "acquired", "2024-02-30", "date" },
    { TPT_TABLE_VISITS, "at", "2026-05-14 07:30", NULL },
    { TPT_TABLE_VISITS, "at", "14.5.2026", "date or time" },
    { TPT_TABLE_VISITS, "at", "2026-03-29 02:30", "never comes" },
    { TPT_TABLE_VISITS, "at", "2026-10-25 02:30", "comes twice" },
    { TPT_TABLE_VISITS, "at", "2026-10-25 02:30+02:00", NULL },
    { TPT_TABLE_VISITS, "frames_on_card", "-1", "between" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptField) field = make_field (cases[i].table, cases[i].column, tpt_project_get_zone (f->project));
      const char *error;

      g_test_message ("%s: “%s”", cases[i].column, cases[i].text);
      tpt_field_set_text (field, cases[i].text);
      error = tpt_field_get_error (field);
      if (cases[i].says == NULL)
        g_assert_cmpstr (error, ==, NULL);
      else
        {
          g_assert_nonnull (error);
          g_assert_nonnull (strstr (error, cases[i].says));
        }
    }
}

/* The hour that comes twice is asked about, and the answer is written out.
 * Directive 2000/84/EC, articles 2 and 3: summer time begins and ends at 01:00
 * UTC on the last Sundays of March and October. Bucharest is at +02:00, so
 * there 03:00 to 04:00 never comes or comes twice. */
static void
test_doubled_hour (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *typed;
    const char *button; /* NULL: none is offered */
    const char *taken;  /* NULL: refused */
    TptInstant instant; /* in seconds */
  } cases[] = {
    { "2026-10-25 03:30", "+03:00 (first)", "2026-10-25 03:30+03:00", 1792888200 },
    { "2026-10-25 03:30", "+02:00 (second)", "2026-10-25 03:30+02:00", 1792891800 },
    { " 2026-10-25 03:30 ", "+02:00 (second)", "2026-10-25 03:30+02:00", 1792891800 },
    { "2026-10-25 02:59", NULL, "2026-10-25 02:59", 1792886340 },
    { "2026-10-25 04:00", NULL, "2026-10-25 04:00", 1792893600 },
    { "2026-03-29 03:30", NULL, NULL, 0 },
    { "2026-03-29 04:00", NULL, "2026-03-29 04:00", 1774746000 },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptField) field = make_field (TPT_TABLE_VISITS, "at", zone);
      g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
      g_autofree char *text = NULL;
      GtkWidget *button = NULL;

      g_test_message ("“%s” %s", cases[i].typed, cases[i].button);
      tpt_field_set_text (field, cases[i].typed);
      if (cases[i].button != NULL)
        {
          button = find_button (GTK_WIDGET (field), cases[i].button);
          g_assert_nonnull (button);
          g_assert_nonnull (tpt_field_get_error (field));
          g_assert_true (gtk_widget_get_visible (gtk_widget_get_parent (button)));
          g_signal_emit_by_name (button, "clicked");
        }
      g_assert_false (gtk_widget_get_visible (gtk_widget_get_parent (find_inside (GTK_WIDGET (field), GTK_TYPE_BUTTON))));
      if (cases[i].taken == NULL)
        {
          g_assert_nonnull (strstr (tpt_field_get_error (field), "never comes"));
          continue;
        }
      text = tpt_field_get_text (field);
      g_assert_cmpstr (text, ==, cases[i].taken);
      g_assert_cmpstr (tpt_field_get_error (field), ==, NULL);
      g_assert_true (tpt_field_apply (field, visit));
      g_assert_cmpint (tpt_record_get_instant (visit, "at"), ==, cases[i].instant * TPT_SECOND);
    }
}

/* A moment that is shown and saved again is the same one. */
static void
test_instants_kept (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *instant;
    const char *shown; /* in Bucharest */
  } cases[] = {
    { "2026-05-14T04:30:00Z", "2026-05-14 07:30" },
    { "2026-05-14T04:30:21Z", "2026-05-14 07:30:21" },
    { "2026-05-14T04:30:00.250Z", "2026-05-14 07:30:00.250" },
    { "2026-10-25T01:30:00Z", "2026-10-25T03:30:00+02:00" },
  };
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptField) field = make_field (TPT_TABLE_VISITS, "at", zone);
      g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
      TptInstant instant = tpt_instant_parse (cases[i].instant, NULL, NULL);
      g_autofree char *text = NULL;

      tpt_field_set_instant (field, instant);
      text = tpt_field_get_text (field);
      g_assert_cmpstr (text, ==, cases[i].shown);
      g_assert_true (tpt_field_apply (field, visit));
      g_assert_cmpint (tpt_record_get_instant (visit, "at"), ==, instant);
    }
}

static void
test_field_accessible (Fixture *f, gconstpointer data)
{
  g_autoptr (TptField) field = make_field (TPT_TABLE_STATIONS, "latitude", NULL);
  g_autoptr (TptField) needed = make_field (TPT_TABLE_STATIONS, "station", NULL);
  GtkWidget *entry = find_inside (GTK_WIDGET (field), GTK_TYPE_ENTRY);
  GtkWidget *reason = gtk_widget_get_last_child (GTK_WIDGET (field));

  gtk_test_accessible_assert_role (entry, GTK_ACCESSIBLE_ROLE_TEXT_BOX);
  gtk_test_accessible_assert_property (entry, GTK_ACCESSIBLE_PROPERTY_LABEL, "Latitude (°)");
  gtk_test_accessible_assert_property (find_inside (GTK_WIDGET (needed), GTK_TYPE_ENTRY), GTK_ACCESSIBLE_PROPERTY_REQUIRED, TRUE);
  tpt_field_set_text (field, "95");
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
  gtk_test_accessible_assert_relation (entry, GTK_ACCESSIBLE_RELATION_ERROR_MESSAGE, reason);
  g_assert_true (gtk_widget_has_css_class (entry, "error"));
  g_assert_true (gtk_widget_get_visible (reason));
  tpt_field_set_text (field, "45");
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_FALSE);
  g_assert_false (gtk_test_accessible_has_relation (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_RELATION_ERROR_MESSAGE));
  g_assert_false (gtk_widget_has_css_class (entry, "error"));
  g_assert_false (gtk_widget_get_visible (reason));
}

/* What is typed is found in the middle of a name. */
static void
test_search (Fixture *f, gconstpointer data)
{
  static const char *const zones[] = { "Asia/Kuching", "Europe/Bucharest", "UTC", NULL };
  GtkWidget *choice = gtk_drop_down_new_from_strings (zones);
  GtkSelectionModel *shown;

  tpt_search_anywhere (GTK_DROP_DOWN (choice));
  gtk_window_set_child (f->parent, choice);
  shown = gtk_list_view_get_model (GTK_LIST_VIEW (find_inside (choice, GTK_TYPE_LIST_VIEW)));
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (shown)), ==, 3);
  gtk_editable_set_text (GTK_EDITABLE (find_inside (choice, GTK_TYPE_SEARCH_ENTRY)), "buch");
  ui_settle ();
  ui_settle ();
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (shown)), ==, 1);
  gtk_window_set_child (f->parent, NULL);
}

/* A unit's form shows what its kind has. */
static void
test_kinds (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *kind;
    const char *column;
    gboolean shows;
  } cases[] = {
    { "card", "capacity_gb", TRUE },     { "card", "cell_mah", FALSE },   { "card", "sensor", FALSE },
    { "camera", "capacity_gb", FALSE },  { "camera", "cell_mah", TRUE },  { "camera", "sensor", TRUE },
    { "flash", "flash_ws", TRUE },       { "flash", "awake_s", FALSE },   { "trigger", "sensor", TRUE },
    { "trigger", "flash_ws", FALSE },    { "housing", "cell_mah", FALSE }, { "pack", "cell_mah", TRUE },
  };
  g_autoptr (TptRecordForm) form = g_object_ref_sink (tpt_record_form_new (TPT_TABLE_UNITS, NULL));

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s of a %s", cases[i].column, cases[i].kind);
      tpt_field_set_text (tpt_record_form_get_field (form, "kind"), cases[i].kind);
      g_assert_cmpint (gtk_widget_get_visible (GTK_WIDGET (tpt_record_form_get_field (form, cases[i].column))), ==, cases[i].shows);
    }
}

/* A pasted position fills both fields, in the order given and no other. */
static void
test_position (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *pasted;
    const char *latitude;
    const char *longitude;
    gboolean valid;
  } cases[] = {
    { "2.4128, 113.0243", "2.4128", "113.0243", TRUE },
    { "-43.5 170.5", "-43.5", "170.5", TRUE },
    { "46.5;25.4", "46.5", "25.4", TRUE },
    { "46.5,25.4", "46.5", "25.4", TRUE },
    { "113.0243, 2.4128", "113.0243", "2.4128", FALSE }, /* the wrong way round is said, not swapped */
    { "2,41", "2,41", "", FALSE },                       /* a decimal comma is no pair */
    { "2.4128", "2.4128", "", FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptRecordForm) form = g_object_ref_sink (tpt_record_form_new (TPT_TABLE_STATIONS, NULL));
      g_autofree char *latitude = NULL, *longitude = NULL;

      tpt_field_set_text (tpt_record_form_get_field (form, "station"), "X");
      tpt_field_set_text (tpt_record_form_get_field (form, "latitude"), cases[i].pasted);
      latitude = tpt_field_get_text (tpt_record_form_get_field (form, "latitude"));
      longitude = tpt_field_get_text (tpt_record_form_get_field (form, "longitude"));
      g_assert_cmpstr (latitude, ==, cases[i].latitude);
      g_assert_cmpstr (longitude, ==, cases[i].longitude);
      g_assert_cmpint (tpt_record_form_is_valid (form), ==, cases[i].valid);
    }
}

static void
type_letters (TptField *field, const char *text)
{
  GtkEditable *entry = GTK_EDITABLE (find_inside (GTK_WIDGET (field), GTK_TYPE_ENTRY));

  for (int at = 0; text[at] != '\0';)
    gtk_editable_insert_text (entry, &text[at], 1, &at);
}

/* A pair typed letter by letter is not torn apart before it is whole. */
static void
test_typed_position (Fixture *f, gconstpointer data)
{
  GtkWidget *form = GTK_WIDGET (tpt_record_form_new (TPT_TABLE_STATIONS, NULL));
  TptField *latitude = tpt_record_form_get_field (TPT_RECORD_FORM (form), "latitude");
  TptField *longitude = tpt_record_form_get_field (TPT_RECORD_FORM (form), "longitude");
  g_autofree char *before = NULL, *first = NULL, *second = NULL;

  gtk_window_set_child (f->parent, form);
  gtk_widget_grab_focus (GTK_WIDGET (latitude));
  type_letters (latitude, "46.52, 25.41");
  before = tpt_field_get_text (latitude);
  g_assert_cmpstr (before, ==, "46.52, 25.41");
  gtk_widget_grab_focus (GTK_WIDGET (longitude));
  first = tpt_field_get_text (latitude);
  second = tpt_field_get_text (longitude);
  g_assert_cmpstr (first, ==, "46.52");
  g_assert_cmpstr (second, ==, "25.41");
  gtk_window_set_child (f->parent, NULL);
}

static void
test_new_station (Fixture *f, gconstpointer data)
{
  TptRecordDialog *dialog = tpt_record_dialog_new (f->parent, f->project, TPT_TABLE_STATIONS, NULL);
  TptRecordForm *form;
  g_autoptr (GListModel) stations = NULL;
  g_autofree char *code = NULL;

  gtk_window_present (GTK_WINDOW (dialog));
  form = TPT_RECORD_FORM (ui_find (GTK_WIDGET (dialog), TPT_TYPE_RECORD_FORM));
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));
  tpt_field_set_text (tpt_record_form_get_field (form, "name"), "Cedar hollow");
  code = tpt_field_get_text (tpt_record_form_get_field (form, "station"));
  g_assert_cmpstr (code, ==, "CEDARH");
  tpt_field_set_text (tpt_record_form_get_field (form, "latitude"), "47.5");
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog))); /* half a position */
  tpt_field_set_text (tpt_record_form_get_field (form, "longitude"), "11.2");
  press_and_wait (dialog);
  stations = look_up (f->project, TPT_TABLE_STATIONS, "station", "CEDARH");
  g_assert_cmpuint (g_list_model_get_n_items (stations), ==, 1);
}

/* A visit is edited in place; what nobody touched is as it was, to the second. */
static void
test_edit_visit (Fixture *f, gconstpointer data)
{
  g_autoptr (TptRecord) before = NULL, after = NULL;
  TptRecordDialog *dialog;
  TptRecordForm *form;

  UI_SAVE (f->project, "Clock", TPT_TABLE_VISITS, "visit", "V-2", "station", "ALDER", "at", "2026-04-08T09:00", "found",
           "working", "camera_clock", "2026-04-08T09:03:20", "true_clock", "2026-04-08T09:01:07", "people", "Ada");
  before = get_only (f->project, TPT_TABLE_VISITS, "visit", "V-2");
  dialog = tpt_record_dialog_new (f->parent, f->project, TPT_TABLE_VISITS, before);
  gtk_window_present (GTK_WINDOW (dialog));
  form = TPT_RECORD_FORM (ui_find (GTK_WIDGET (dialog), TPT_TYPE_RECORD_FORM));
  tpt_field_set_text (tpt_record_form_get_field (form, "true_clock"), "");
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog))); /* half a clock check */
  tpt_field_set_instant (tpt_record_form_get_field (form, "true_clock"), tpt_record_get_instant (before, "true_clock"));
  tpt_field_set_text (tpt_record_form_get_field (form, "found"), "dead");
  press_and_wait (dialog);
  after = get_only (f->project, TPT_TABLE_VISITS, "visit", "V-2");
  g_assert_cmpstr (tpt_record_get_text (after, "found"), ==, "dead");
  tpt_record_set_text (after, "found", "working");
  g_assert_true (tpt_record_equal (before, after));
}

/* A code that is taken is told at its field, and the form stays. */
static void
test_refused (Fixture *f, gconstpointer data)
{
  TptRecordDialog *dialog = tpt_record_dialog_new (f->parent, f->project, TPT_TABLE_STATIONS, NULL);
  TptField *code;

  gtk_window_present (GTK_WINDOW (dialog));
  code = tpt_record_form_get_field (TPT_RECORD_FORM (ui_find (GTK_WIDGET (dialog), TPT_TYPE_RECORD_FORM)), "station");
  tpt_field_set_text (code, "ALDER");
  g_signal_emit_by_name (find_save (dialog), "clicked");
  ui_settle ();
  ui_settle ();
  g_assert_nonnull (tpt_field_get_error (code));
  tpt_field_set_text (code, "ASPEN");
  g_assert_cmpstr (tpt_field_get_error (code), ==, NULL);
  gtk_window_close (GTK_WINDOW (dialog));
  ui_settle ();
}

static gboolean
has_checks (gpointer dialog)
{
  return ui_find (dialog, GTK_TYPE_CHECK_BUTTON) != NULL;
}

static void
test_set_out (Fixture *f, gconstpointer data)
{
  TptSetOutDialog *dialog = tpt_set_out_dialog_new (f->parent, f->project, "BIRCH");
  g_autoptr (GListModel) deployments = NULL, fittings = NULL;

  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (has_checks, dialog);
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog))); /* a rig of nothing */
  gtk_check_button_set_active (GTK_CHECK_BUTTON (ui_find (GTK_WIDGET (dialog), GTK_TYPE_CHECK_BUTTON)), TRUE);
  press_and_wait (dialog);
  deployments = look_up (f->project, TPT_TABLE_DEPLOYMENTS, "station", "BIRCH");
  fittings = look_up (f->project, TPT_TABLE_FITTINGS, "unit", "K-2");
  g_assert_cmpuint (g_list_model_get_n_items (deployments), ==, 1);
  g_assert_cmpuint (g_list_model_get_n_items (fittings), ==, 1);
}

static gboolean
has_question (gpointer dialog)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (ADW_IS_MESSAGE_DIALOG (window) && gtk_window_get_transient_for (window) == dialog)
        {
          g_object_set_data (dialog, "question", window);
          return TRUE;
        }
    }
  return FALSE;
}

/* Whether a rig without a camera is meant is asked first. */
static void
test_no_camera (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *response;
    guint n_deployments;
  } cases[] = {
    { "back", 0 },
    { "set-out", 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *dialog = GTK_WIDGET (tpt_set_out_dialog_new (f->parent, f->project, "BIRCH"));
      g_autoptr (GListModel) deployments = NULL;
      GtkWidget *check;

      gtk_window_present (GTK_WINDOW (dialog));
      ui_wait (has_checks, dialog);
      g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (dialog)), ==, "Set out: Birch gate");
      check = find_inside (dialog, GTK_TYPE_CHECK_BUTTON);
      g_assert_cmpstr (gtk_check_button_get_label (GTK_CHECK_BUTTON (check)), ==, "K-2");
      check = find_inside (find_labelled (dialog, GTK_TYPE_FLOW_BOX, "Card"), GTK_TYPE_CHECK_BUTTON);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), TRUE);
      g_signal_emit_by_name (find_save (dialog), "clicked");
      ui_wait (has_question, dialog);
      adw_message_dialog_response (g_object_get_data (G_OBJECT (dialog), "question"), cases[i].response);
      ui_settle ();
      ui_settle ();
      deployments = look_up (f->project, TPT_TABLE_DEPLOYMENTS, "station", "BIRCH");
      g_assert_cmpuint (g_list_model_get_n_items (deployments), ==, cases[i].n_deployments);
      if (cases[i].n_deployments == 0)
        gtk_window_destroy (GTK_WINDOW (dialog));
    }
}

static guint
count_visible_checks (GtkWidget *root)
{
  guint n = 0;

  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    n += GTK_IS_CHECK_BUTTON (at) ? gtk_widget_get_child_visible (at) && gtk_widget_get_mapped (at) : count_visible_checks (at);
  return n;
}

/* The shelf is searched, and every check on it is reached with Tab alone. */
static void
test_shelf (Fixture *f, gconstpointer data)
{
  g_autoptr (GHashTable) reached = g_hash_table_new (NULL, NULL);
  GtkWidget *dialog, *search;

  for (int i = 10; i < 19; i++)
    {
      g_autofree char *code = g_strdup_printf ("P-%d", i);
      UI_SAVE (f->project, "Add pack", TPT_TABLE_UNITS, "unit", code, "kind", "pack");
    }
  dialog = GTK_WIDGET (tpt_set_out_dialog_new (f->parent, f->project, "BIRCH"));
  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (has_checks, dialog);
  ui_settle ();
  g_assert_cmpuint (count_visible_checks (dialog), ==, 11);

  for (int step = 0; step < 60; step++)
    {
      GtkWidget *focus;

      gtk_widget_child_focus (dialog, GTK_DIR_TAB_FORWARD);
      focus = gtk_window_get_focus (GTK_WINDOW (dialog));
      if (GTK_IS_CHECK_BUTTON (focus))
        g_hash_table_add (reached, focus);
    }
  g_assert_cmpuint (g_hash_table_size (reached), ==, 11);

  search = find_labelled (dialog, GTK_TYPE_SEARCH_ENTRY, "Search the shelf");
  gtk_editable_set_text (GTK_EDITABLE (search), "p-12");
  ui_settle ();
  ui_settle ();
  g_assert_cmpuint (count_visible_checks (dialog), ==, 1);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (ui_find (dialog, GTK_TYPE_CHECK_BUTTON)), TRUE);
  gtk_editable_set_text (GTK_EDITABLE (search), "k-2");
  ui_settle ();
  ui_settle ();
  g_assert_cmpuint (count_visible_checks (dialog), ==, 2); /* what is chosen stays */
  gtk_window_close (GTK_WINDOW (dialog));
  ui_settle ();
}

/* A refused row is told with its place, and nothing can be imported. */
static void
test_import (Fixture *f, gconstpointer data)
{
  TptImportDialog *dialog = tpt_import_dialog_new (f->parent, f->project);
  g_autofree char *path = g_build_filename (f->folder, "stations.csv", NULL);
  const char *paths[] = { path, NULL };

  gtk_window_present (GTK_WINDOW (dialog));
  g_assert_true (g_file_set_contents (path, "station,latitude,longitude\nELM,47.1,11.1\nFIR,nan,11.2\n", -1, NULL));
  tpt_import_dialog_set_files (dialog, paths);
  ui_settle ();
  ui_settle ();
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));

  g_assert_true (g_file_set_contents (path, "station,latitude,longitude\nELM,47.1,11.1\nFIR,47.2,11.2\n", -1, NULL));
  tpt_import_dialog_set_files (dialog, paths);
  ui_settle ();
  ui_settle ();
  press_and_wait (dialog);
  {
    g_autoptr (GListModel) stations = look_up (f->project, TPT_TABLE_STATIONS, NULL, NULL);
    g_assert_cmpuint (g_list_model_get_n_items (stations), ==, 4);
  }
  g_remove (path);
}

static void
keep_project_cb (TptProject *project, gpointer data)
{
  *(TptProject **) data = g_object_ref (project);
}

static void
test_new_project (Fixture *f, gconstpointer data)
{
  TptProject *made = NULL;
  TptNewProjectDialog *dialog = tpt_new_project_dialog_new (f->parent, keep_project_cb, &made);
  g_autofree char *path = g_build_filename (f->folder, "made.gpkg", NULL);

  gtk_window_present (GTK_WINDOW (dialog));
  gtk_editable_set_text (GTK_EDITABLE (ui_find (GTK_WIDGET (dialog), GTK_TYPE_ENTRY)), "Made");
  tpt_new_project_dialog_set_file (dialog, f->path); /* there already: never overwritten */
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));
  tpt_new_project_dialog_set_file (dialog, path);
  press_and_wait (dialog);
  g_assert_nonnull (made);
  g_assert_cmpstr (tpt_project_get_name (made), ==, "Made");
  g_object_unref (made);
  ui_settle ();
  g_remove (path);
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

  add ("/forms/validation", test_validation);
  add ("/forms/doubled-hour", test_doubled_hour);
  add ("/forms/instants-kept", test_instants_kept);
  add ("/forms/search", test_search);
  add ("/forms/field-accessible", test_field_accessible);
  add ("/forms/kinds", test_kinds);
  add ("/forms/position", test_position);
  add ("/forms/typed-position", test_typed_position);
  add ("/forms/edit-visit", test_edit_visit);
  add ("/forms/refused", test_refused);
  add ("/forms/new-station", test_new_station);
  add ("/forms/set-out", test_set_out);
  add ("/forms/no-camera", test_no_camera);
  add ("/forms/shelf", test_shelf);
  add ("/forms/import", test_import);
  add ("/forms/new-project", test_new_project);
  return g_test_run ();
}
