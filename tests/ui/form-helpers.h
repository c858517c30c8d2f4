/* What the tests of forms share: finding a control, pressing, looking at the outcome. */
#pragma once

#include "ui-helpers.h"

static inline GtkWidget *
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

/* (transfer none) (nullable): the first descendant of @type, whether it shows or not. */
static inline GtkWidget *
find_inside (GtkWidget *root, GType type)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (at, type) ? at : find_inside (at, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static inline GtkWidget *
find_save (gpointer dialog)
{
  return gtk_window_get_default_widget (GTK_WINDOW (dialog));
}

static inline void
gone_cb (gpointer data, GObject *where)
{
  *(gboolean *) data = TRUE;
}

static inline gboolean
is_true (gpointer data)
{
  return *(gboolean *) data;
}

/* Presses the action and waits for the dialog to close. */
static inline void
press_and_wait (gpointer dialog)
{
  gboolean gone = FALSE;

  g_object_weak_ref (G_OBJECT (dialog), gone_cb, &gone);
  g_assert_true (gtk_widget_get_sensitive (find_save (dialog)));
  g_signal_emit_by_name (find_save (dialog), "clicked");
  ui_wait (is_true, &gone);
}

static inline GListModel *
look_up (TptProject *project, TptTableId table, const char *column, const char *value)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (table, column, value);
  GError *error = NULL;

  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);
  return g_object_ref (tpt_job_lookup_get_records (job));
}

static inline TptRecord *
get_only (TptProject *project, TptTableId table, const char *column, const char *value)
{
  g_autoptr (GListModel) rows = look_up (project, table, column, value);

  g_assert_cmpuint (g_list_model_get_n_items (rows), ==, 1);
  return g_list_model_get_item (rows, 0);
}

static inline gboolean
is_labelled (GtkWidget *widget, GType type, const char *label)
{
  g_autofree char *differs = NULL;

  if (!G_TYPE_CHECK_INSTANCE_TYPE (widget, type))
    return FALSE;
  differs = gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label);
  return differs == NULL;
}

static inline GtkWidget *
find_labelled (GtkWidget *root, GType type, const char *label)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = is_labelled (at, type, label) ? at : find_labelled (at, type, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

typedef struct {
  GtkWidget *dialog;
  const char *text;
} Saying;

static inline gboolean
is_said_below (GtkWidget *widget, const char *text)
{
  if (GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL)
    return TRUE;
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    if (is_said_below (at, text))
      return TRUE;
  return FALSE;
}

static inline gboolean
is_said (gpointer data)
{
  Saying *saying = data;

  return is_said_below (saying->dialog, saying->text);
}
