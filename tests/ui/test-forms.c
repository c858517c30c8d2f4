#include "config.h"

#include <adwaita.h>

#include "tpt-bring-in-dialog.h"
#include "tpt-field.h"
#include "tpt-import-dialog.h"
#include "tpt-intake-dialog.h"
#include "tpt-job-lookup.h"
#include "tpt-job-undo.h"
#include "tpt-new-project-dialog.h"
#include "tpt-record-dialog.h"
#include "tpt-record-form.h"
#include "tpt-set-out-dialog.h"
#include "tpt-visit-dialog.h"
#include "ui-helpers.h"

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

static GtkWidget *
find_button (GtkWidget *root, const char *label)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = GTK_IS_BUTTON (at) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (at)), label) == 0
                           ? at : find_button (at, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* The hour that comes twice is asked about, and the answer is written out. */
static void
test_doubled_hour (Fixture *f, gconstpointer data)
{
  g_autoptr (TptField) field = make_field (TPT_TABLE_VISITS, "at", tpt_project_get_zone (f->project));
  g_autofree char *text = NULL;
  GtkWidget *second;

  tpt_field_set_text (field, "2026-10-25 02:30");
  second = find_button (GTK_WIDGET (field), "+01:00 (second)");
  g_assert_nonnull (second);
  g_assert_nonnull (find_button (GTK_WIDGET (field), "+02:00 (first)"));
  g_signal_emit_by_name (second, "clicked");
  text = tpt_field_get_text (field);
  g_assert_cmpstr (text, ==, "2026-10-25 02:30+01:00");
  g_assert_cmpstr (tpt_field_get_error (field), ==, NULL);
}

static void
test_field_accessible (Fixture *f, gconstpointer data)
{
  g_autoptr (TptField) field = make_field (TPT_TABLE_STATIONS, "latitude", NULL);
  GtkWidget *entry = gtk_widget_get_first_child (GTK_WIDGET (field));

  while (entry != NULL && !GTK_IS_ENTRY (entry))
    entry = gtk_widget_get_next_sibling (entry);
  g_assert_nonnull (entry);
  gtk_test_accessible_assert_role (entry, GTK_ACCESSIBLE_ROLE_TEXT_BOX);
  gtk_test_accessible_assert_property (entry, GTK_ACCESSIBLE_PROPERTY_LABEL, "Latitude (°)");
  tpt_field_set_text (field, "95");
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_TRUE);
  tpt_field_set_text (field, "45");
  gtk_test_accessible_assert_state (entry, GTK_ACCESSIBLE_STATE_INVALID, GTK_ACCESSIBLE_INVALID_FALSE);
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
    { "113.0243, 2.4128", "113.0243", "2.4128", FALSE }, /* the wrong way round is said, not swapped */
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

static GtkWidget *
find_save (gpointer dialog)
{
  return gtk_window_get_default_widget (GTK_WINDOW (dialog));
}

static void
gone_cb (gpointer data, GObject *where)
{
  *(gboolean *) data = TRUE;
}

static gboolean
is_true (gpointer data)
{
  return *(gboolean *) data;
}

/* Presses the action and waits for the dialog to close. */
static void
press_and_wait (gpointer dialog)
{
  gboolean gone = FALSE;

  g_object_weak_ref (G_OBJECT (dialog), gone_cb, &gone);
  g_assert_true (gtk_widget_get_sensitive (find_save (dialog)));
  g_signal_emit_by_name (find_save (dialog), "clicked");
  ui_wait (is_true, &gone);
}

static GListModel *
look_up (TptProject *project, TptTableId table, const char *column, const char *value)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (table, column, value);
  GError *error = NULL;

  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  return g_object_ref (tpt_job_lookup_get_records (job));
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

static gboolean
visit_ready (gpointer dialog)
{
  return tpt_visit_dialog_is_ready (dialog);
}

/* A visit with everything as it was found: one action, taken back by one undo. */
static void
test_visit (Fixture *f, gconstpointer data)
{
  TptVisitDialog *dialog = tpt_visit_dialog_new (f->parent, f->project, "ALDER", FALSE);
  g_autoptr (GListModel) visits = NULL, readings = NULL, after = NULL;
  g_autoptr (TptJobUndo) undo = tpt_job_undo_new (FALSE);
  GError *error = NULL;

  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (visit_ready, dialog);
  press_and_wait (dialog);
  visits = look_up (f->project, TPT_TABLE_VISITS, "station", "ALDER");
  readings = look_up (f->project, TPT_TABLE_READINGS, NULL, NULL);
  g_assert_cmpuint (g_list_model_get_n_items (visits), ==, 2);
  g_assert_cmpuint (g_list_model_get_n_items (readings), ==, 3); /* camera, flash, card */
  tpt_project_run (f->project, TPT_JOB (undo), NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (tpt_job_undo_get_what (undo), ==, "Record visit at Alder ford");
  after = look_up (f->project, TPT_TABLE_READINGS, NULL, NULL);
  g_assert_cmpuint (g_list_model_get_n_items (after), ==, 0);
}

/* Bringing in ends the deployment and everything fitted in it. */
static void
test_bring_in (Fixture *f, gconstpointer data)
{
  TptVisitDialog *dialog = tpt_visit_dialog_new (f->parent, f->project, "ALDER", TRUE);
  g_autoptr (GListModel) fittings = NULL, deployments = NULL;
  g_autoptr (TptRecord) deployment = NULL;

  gtk_window_present (GTK_WINDOW (dialog));
  ui_wait (visit_ready, dialog);
  press_and_wait (dialog);
  fittings = look_up (f->project, TPT_TABLE_FITTINGS, NULL, NULL);
  deployments = look_up (f->project, TPT_TABLE_DEPLOYMENTS, "station", "ALDER");
  deployment = g_list_model_get_item (deployments, 0);
  g_assert_true (tpt_record_is_set (deployment, "end"));
  g_assert_cmpuint (g_list_model_get_n_items (fittings), ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (TptRecord) fitting = g_list_model_get_item (fittings, i);
      g_assert_cmpint (tpt_record_get_instant (fitting, "to"), ==, tpt_record_get_instant (deployment, "end"));
    }
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

/* Every dialog that is not walked through above can be built and closed. */
static void
test_intake (Fixture *f, gconstpointer data)
{
  TptIntakeDialog *dialog = tpt_intake_dialog_new (f->parent, f->project, "ALDER");

  gtk_window_present (GTK_WINDOW (dialog));
  ui_settle ();
  g_assert_false (gtk_widget_get_sensitive (find_save (dialog)));
  tpt_intake_dialog_set_folder (dialog, f->folder);
  ui_settle ();
  g_assert_true (gtk_widget_get_sensitive (find_save (dialog)));
  gtk_window_close (GTK_WINDOW (dialog));
  ui_settle ();
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
  add ("/forms/field-accessible", test_field_accessible);
  add ("/forms/kinds", test_kinds);
  add ("/forms/position", test_position);
  add ("/forms/new-station", test_new_station);
  add ("/forms/visit", test_visit);
  add ("/forms/bring-in", test_bring_in);
  add ("/forms/set-out", test_set_out);
  add ("/forms/import", test_import);
  add ("/forms/new-project", test_new_project);
  add ("/forms/intake", test_intake);
  return g_test_run ();
}
