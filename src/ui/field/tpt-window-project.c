#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-cards-dialog.h"
#include "tpt-error.h"
#include "tpt-settings.h"
#include "tpt-window-private.h"
#include "tpt-words.h"

typedef struct {
  const char *title;
  const char *advice;
} FaultWords;

/* What happened is in the error's message; these say what it means and what to do. */
static FaultWords
find_fault_words (const GError *error)
{
  static const FaultWords unusable = { N_("This file cannot be used as a project"),
                                       N_("Check that it is a project file. A copy or a backup of it may still open.") };
  static const FaultWords newer = { N_("This project was written by a newer version"),
                                    N_("It was not touched. Update the program, then open it again.") };
  static const FaultWords busy = { N_("This project is busy"),
                                   N_("Somebody else is writing to it. Wait a moment, then try again.") };
  static const FaultWords unread = { N_("This file could not be read"),
                                     N_("Check that its disk or share is connected and that you may read it.") };

  if (g_error_matches (error, TPT_ERROR, TPT_ERROR_NEWER))
    return newer;
  if (g_error_matches (error, TPT_ERROR, TPT_ERROR_BUSY))
    return busy;
  if (g_error_matches (error, TPT_ERROR, TPT_ERROR_IO) || error->domain == G_IO_ERROR)
    return unread;
  return unusable;
}

static void
show_fault_dialog (TptWindow *self, FaultWords words, const char *text)
{
  GtkWidget *dialog = adw_message_dialog_new (GTK_WINDOW (self), _(words.title), text);

  adw_message_dialog_add_response (ADW_MESSAGE_DIALOG (dialog), "close", _("_Close"));
  gtk_window_present (GTK_WINDOW (dialog));
}

/* A project that is open stays; without one the whole window says it. */
static void
show_fault (TptWindow *self, const GError *error)
{
  FaultWords words = find_fault_words (error);
  g_autofree char *text = g_strdup_printf ("%s\n\n%s", error->message, _(words.advice));
  g_autofree char *escaped = g_markup_escape_text (text, -1);

  if (self->project != NULL)
    {
      gtk_stack_set_visible_child_name (self->stack, "project");
      show_fault_dialog (self, words, text);
      return;
    }
  adw_status_page_set_title (self->fault, _(words.title));
  adw_status_page_set_description (self->fault, escaped);
  gtk_stack_set_visible_child_name (self->stack, "fault");
}

static void
stop_opening (TptWindow *self)
{
  if (self->opening != NULL)
    g_cancellable_cancel (self->opening);
  g_clear_object (&self->opening);
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptWindow) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptProject) project = tpt_project_open_finish (result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->opening)
    return;
  g_clear_object (&self->opening);
  if (project != NULL)
    tpt_window_set_project (self, project);
  else
    show_fault (self, error);
}

void
tpt_window_open (TptWindow *self, const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  g_autofree char *text = g_strdup_printf (_("Opening %s…"), name);
  char *kept = g_strdup (path);

  stop_opening (self);
  g_free (self->opening_path);
  self->opening_path = kept;
  self->opening = g_cancellable_new ();
  gtk_label_set_label (self->opening_text, text);
  gtk_stack_set_visible_child_name (self->stack, "opening");
  tpt_project_open_async (self->opening_path, self->opening, opened_cb, g_object_ref (self));
}

static void
show_clock (TptWindow *self)
{
  gboolean stands = FALSE;
  TptInstant now = tpt_project_get_now (self->project, &stands);
  g_autofree char *day = tpt_words_date (now, tpt_project_get_zone (self->project));
  g_autofree char *text = g_strdup_printf (_("it is %s here"), day);

  gtk_label_set_label (self->clock, text);
  gtk_widget_set_visible (GTK_WIDGET (self->clock), stands);
}

static void
show_title (TptWindow *self)
{
  const char *name = tpt_project_get_name (self->project);
  g_autofree char *title = g_strdup_printf (_("%s – Tapetum"), name);

  gtk_label_set_label (self->name, name);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->name), tpt_project_get_path (self->project));
  gtk_window_set_title (GTK_WINDOW (self), title);
  show_clock (self);
}

static void
show_none (TptWindow *self)
{
  gtk_label_set_label (self->name, "");
  gtk_widget_set_visible (GTK_WIDGET (self->clock), FALSE);
  gtk_window_set_title (GTK_WINDOW (self), _("Tapetum"));
  gtk_stack_set_visible_child_name (self->stack, "welcome");
}

void
tpt_window_drop_project (TptWindow *self)
{
  stop_opening (self);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_func (self->project, tpt_window_update_actions, self);
  g_clear_object (&self->project);
}

void
tpt_window_set_project (TptWindow *self, TptProject *project)
{
  g_autoptr (TptProject) kept = project != NULL ? g_object_ref (project) : NULL;

  tpt_window_drop_project (self);
  self->project = g_steal_pointer (&kept);
  gtk_info_bar_set_revealed (self->trouble, FALSE);
  tpt_field_page_set_project (self->field, project);
  tpt_sorting_page_set_project (self->sorting, project);
  tpt_findings_page_set_project (self->findings, project);
  tpt_shelf_page_set_project (self->shelf, project);
  gtk_widget_set_visible (self->history, project != NULL);
  gtk_widget_set_visible (self->read_only, project != NULL && tpt_project_get_read_only (project));
  gtk_stack_set_visible_child_name (self->title, project != NULL ? "pages" : "none");
  if (project != NULL)
    {
      g_signal_connect_swapped (project, "notify::undo-label", G_CALLBACK (tpt_window_update_actions), self);
      g_signal_connect_swapped (project, "notify::redo-label", G_CALLBACK (tpt_window_update_actions), self);
      tpt_settings_add_recent (tpt_project_get_path (project));
      tpt_window_update_recent (self);
      show_title (self);
      gtk_stack_set_visible_child_name (self->stack, "project");
    }
  else
    show_none (self);
  tpt_window_update_actions (self);
}

TptProject *
tpt_window_get_project (TptWindow *self)
{
  return self->project;
}

gboolean
tpt_window_is_taken (TptWindow *self)
{
  return self->project != NULL || self->opening != NULL;
}

static void
chosen_cb (TptWindow *self, int response)
{
  g_autoptr (GFile) file = NULL;

  if (response != GTK_RESPONSE_ACCEPT)
    return;
  file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (self->chooser));
  if (file != NULL && g_file_peek_path (file) != NULL)
    tpt_window_open (self, g_file_peek_path (file));
}

void
tpt_window_choose_file (TptWindow *self)
{
  g_autoptr (GtkFileFilter) projects = gtk_file_filter_new ();
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();

  g_clear_object (&self->chooser);
  self->chooser = gtk_file_chooser_native_new (_("Open a project"), GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_OPEN,
                                               _("_Open"), NULL);
  gtk_file_filter_set_name (projects, _("Projects"));
  gtk_file_filter_add_suffix (projects, "gpkg");
  gtk_file_filter_set_name (all, _("All files"));
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->chooser), projects);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->chooser), all);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (chosen_cb), self, G_CONNECT_SWAPPED);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

void
tpt_window_update_recent (TptWindow *self)
{
  g_auto (GStrv) paths = tpt_settings_get_list ("recent-projects");

  tpt_welcome_page_set_recent (self->welcome, (const char *const *) paths);
  g_menu_remove_all (self->recent_menu);
  for (guint i = 0; paths[i] != NULL; i++)
    {
      g_autofree char *name = g_filename_display_basename (paths[i]);
      g_autoptr (GMenuItem) item = g_menu_item_new (name, NULL);

      g_menu_item_set_action_and_target (item, "win.open-path", "s", paths[i]);
      g_menu_append_item (self->recent_menu, item);
    }
}

/* Folders are cards' folders. */
static gboolean
drop_folders (TptWindow *self, GSList *files)
{
  g_autoptr (GPtrArray) folders = g_ptr_array_new ();

  for (GSList *at = files; at != NULL; at = at->next)
    if (g_file_peek_path (at->data) != NULL && g_file_test (g_file_peek_path (at->data), G_FILE_TEST_IS_DIR))
      g_ptr_array_add (folders, (gpointer) g_file_peek_path (at->data));
  if (folders->len == 0 || !g_action_group_get_action_enabled (G_ACTION_GROUP (self), "intake"))
    return FALSE;
  g_ptr_array_add (folders, NULL);
  tpt_cards_dialog_present (GTK_WINDOW (self), self->project, NULL, (const char *const *) folders->pdata);
  return TRUE;
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, TptWindow *self)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));

  for (GSList *at = files; at != NULL; at = at->next)
    {
      const char *path = g_file_peek_path (at->data);

      if (path == NULL || !g_str_has_suffix (path, ".gpkg"))
        continue;
      tpt_window_open (self, path);
      return TRUE;
    }
  return drop_folders (self, files);
}

void
tpt_window_add_drop (TptWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}
