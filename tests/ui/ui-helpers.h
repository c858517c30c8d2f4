/* What the tests of the window share: a small project, and waiting. */
#pragma once

#include <glib/gstdio.h>
#include <gtk/gtk.h>

#include "tpt-job-edit.h"
#include "tpt-job-lookup.h"
#include "tpt-project.h"

#define WAIT_SECONDS 20

typedef gboolean (*UiCondition) (gpointer data);

static inline gboolean
ui_expired_cb (gpointer expired)
{
  *(gboolean *) expired = TRUE;
  return G_SOURCE_REMOVE;
}

/* Runs the main loop until @condition holds; a test that waits in vain fails. */
static inline void
ui_wait (UiCondition condition, gpointer data)
{
  gboolean expired = FALSE;
  guint source = g_timeout_add_seconds (WAIT_SECONDS, ui_expired_cb, &expired);

  while (!condition (data) && !expired)
    g_main_context_iteration (NULL, TRUE);
  g_assert_false (expired);
  g_source_remove (source);
}

/* Whatever is ready now. */
static inline void
ui_settle (void)
{
  gboolean expired = FALSE;

  g_timeout_add (150, ui_expired_cb, &expired);
  while (!expired)
    g_main_context_iteration (NULL, TRUE);
}

static inline TptRecord *
ui_make_record (TptTableId table, const char *const *cells, TptZone *zone)
{
  TptRecord *record = tpt_record_new (table);
  GError *error = NULL;

  for (guint i = 0; cells[i] != NULL; i += 2)
    {
      tpt_record_set_from_string (record, cells[i], cells[i + 1], zone, &error);
      g_assert_no_error (error);
    }
  return record;
}

/* A record whose code is there already edits that row, as a form would. */
static inline void
ui_find_row (TptProject *project, TptRecord *record)
{
  const TptTable *table = tpt_record_get_table (record);
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (table->id, table->columns[0].name, tpt_record_get_code (record));
  g_autoptr (TptRecord) row = NULL;
  GError *error = NULL;

  if (table->n_key != 1)
    return;
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  row = g_list_model_get_item (tpt_job_lookup_get_records (job), 0);
  if (row != NULL)
    tpt_record_set_identity (record, tpt_record_get_id (row), tpt_record_get_uuid (row));
}

static inline void
ui_save (TptProject *project, const char *what, TptRecord *record)
{
  g_autoptr (TptJobEdit) job = tpt_job_edit_new (what);
  GError *error = NULL;

  ui_find_row (project, record);
  tpt_job_edit_save (job, record);
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
}

#define UI_SAVE(project, what, table, ...) \
  G_STMT_START { \
    const char *const cells_[] = { __VA_ARGS__, NULL }; \
    g_autoptr (TptRecord) record_ = ui_make_record (table, cells_, tpt_project_get_zone (project)); \
    ui_save (project, what, record_); \
  } G_STMT_END

/* (transfer full): invented stations: ALDER with a camera, a flash and a card,
 * BIRCH without a rig. */
static inline TptProject *
ui_make_project (const char *path)
{
  GError *error = NULL;
  TptProject *project = tpt_project_create (path, "Willow valley", "Europe/Berlin", &error);

  g_assert_no_error (error);
  UI_SAVE (project, "Add Alder ford", TPT_TABLE_STATIONS, "station", "ALDER", "name", "Alder ford", "latitude", "47.51234",
           "longitude", "-11.26789", "uncertainty_m", "15", "feature", "trail at water");
  UI_SAVE (project, "Add Birch gate", TPT_TABLE_STATIONS, "station", "BIRCH", "name", "Birch gate", "feature", "gate");
  UI_SAVE (project, "Add camera", TPT_TABLE_UNITS, "unit", "K-1", "kind", "camera", "label", "Camera one", "chemistry",
           "nimh", "cells_series", "4", "cells_parallel", "2", "cell_mah", "2000", "sleep_ma", "0.3", "awake_ma", "120",
           "awake_s", "5", "frame_mas", "900");
  UI_SAVE (project, "Add flash", TPT_TABLE_UNITS, "unit", "F-1", "kind", "flash", "label", "Flash one");
  UI_SAVE (project, "Add card", TPT_TABLE_UNITS, "unit", "C-1", "kind", "card", "label", "Card one", "capacity_gb", "16");
  UI_SAVE (project, "Set out at Alder ford", TPT_TABLE_DEPLOYMENTS, "deployment", "ALDER-1", "station", "ALDER", "start",
           "2026-03-01T10:00", "frames_per_trigger", "3", "frame_mb", "4");
  UI_SAVE (project, "Fit camera", TPT_TABLE_FITTINGS, "deployment", "ALDER-1", "unit", "K-1", "from", "2026-03-01T10:00");
  UI_SAVE (project, "Fit flash", TPT_TABLE_FITTINGS, "deployment", "ALDER-1", "unit", "F-1", "from", "2026-03-01T10:00");
  UI_SAVE (project, "Fit card", TPT_TABLE_FITTINGS, "deployment", "ALDER-1", "unit", "C-1", "from", "2026-03-01T10:00");
  UI_SAVE (project, "Record visit at Alder ford", TPT_TABLE_VISITS, "visit", "V-1", "station", "ALDER", "at",
           "2026-04-01T09:00", "found", "working", "frames_on_card", "1210");
  return project;
}

/* (transfer none) (nullable): the first descendant of @type that shows. */
static inline GtkWidget *
ui_find (GtkWidget *widget, GType type)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (at, type) ? at : ui_find (at, type);

      if (found != NULL && gtk_widget_get_mapped (found))
        return found;
    }
  return NULL;
}

/* (transfer none) (nullable): the label that shows @text. */
static inline GtkWidget *
ui_find_label (GtkWidget *widget, const char *text)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget)
      && g_strcmp0 (gtk_label_get_text (GTK_LABEL (widget)), text) == 0)
    return widget;
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = ui_find_label (at, text);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static inline void
ui_remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *below = g_build_filename (path, name, NULL);
      ui_remove_tree (below);
    }
  g_remove (path);
}

/* Every template can be made and let go of. */
static inline void
ui_check_templates (const GType *types, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      GtkWidget *widget = g_object_ref_sink (g_object_new (types[i], NULL));
      gpointer watch = widget;

      g_object_add_weak_pointer (G_OBJECT (widget), &watch);
      g_object_unref (widget);
      g_test_message ("%s", g_type_name (types[i]));
      g_assert_null (watch);
    }
}
