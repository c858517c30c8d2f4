/* Changes from the naming view that are no decisions: which word counts, marks,
 * the limits of triggers, one of several names taken back, a new species. */
#include "config.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-job-edit.h"
#include "tpt-job-lookup.h"
#include "tpt-naming-private.h"
#include "tpt-words.h"

static void
change (TptNamingView *self, gpointer job)
{
  tpt_decider_run (self->decider, TPT_JOB (job));
  tpt_trigger_reader_renew (self->reader, self->ref);
}

void
tpt_naming_settle (TptNamingView *self, int opinion)
{
  g_autoptr (TptJobSettle) job = NULL;

  if (!tpt_naming_is_editable (self))
    return;
  job = tpt_job_settle_new (&self->ref.trigger_id, 1, opinion);
  change (self, job);
}

void
tpt_naming_settle_other (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);
  int other = row != NULL ? tpt_said_list_find_other (row) : 0;

  if (other > 0)
    tpt_naming_settle (self, other);
}

void
tpt_naming_mark (TptNamingView *self)
{
  const TptFrameRow *row = tpt_naming_get_row (self);
  g_autoptr (TptJobMark) job = NULL;

  if (row == NULL || !tpt_naming_is_editable (self))
    return;
  job = tpt_job_mark_new (&row->ref.frame_id, 1, "guests", !row->marked, self->person);
  change (self, job);
}

void
tpt_naming_split (TptNamingView *self)
{
  g_autoptr (TptJobRegroup) job = NULL;

  if (!tpt_naming_is_editable (self) || self->chosen == 0)
    return;
  job = tpt_job_regroup_new_split (tpt_naming_get_row (self)->ref.frame_id);
  change (self, job);
}

void
tpt_naming_join (TptNamingView *self)
{
  g_autoptr (TptJobRegroup) job = NULL;

  if (!tpt_naming_is_editable (self))
    return;
  job = tpt_job_regroup_new_join (self->ref.trigger_id);
  change (self, job);
}

/* --- one of several names ------------------------------------------------------- */

static void
found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptNamingView) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TptRecord) record = NULL;
  g_autoptr (TptJobEdit) job = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
      return;
    }
  record = g_list_model_get_item (tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result))), 0);
  if (record == NULL || self->project != TPT_PROJECT (source))
    return;
  job = tpt_job_edit_new (_("Take back a name"));
  tpt_job_edit_remove (job, record);
  change (self, job);
}

void
tpt_naming_take_back (TptNamingView *self, const char *observation)
{
  g_autoptr (TptJobLookup) job = NULL;
  guint n;

  tpt_naming_find_mine (self, &n);
  if (n <= 1)
    {
      tpt_naming_take_back_all (self);
      return;
    }
  job = tpt_job_lookup_new (TPT_TABLE_OBSERVATIONS, "observation", observation);
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, found_cb, g_object_ref (self));
}

/* --- a species that is not on the list yet ---------------------------------------- */

typedef struct {
  TptNamingView *view; /* (owned) */
  TptFrameRef ref;     /* on screen as it was asked */
  char *species;       /* (owned) */
} Newcomer;

static void
free_newcomer (gpointer data, GClosure *closure)
{
  Newcomer *newcomer = data;

  g_object_unref (newcomer->view);
  g_free (newcomer->species);
  g_free (newcomer);
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Newcomer *newcomer = data;
  TptNamingView *self = newcomer->view;
  g_autoptr (GError) error = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
  else if (self->project == TPT_PROJECT (source))
    {
      tpt_name_ranks_renew (self->ranks);
      if (self->ref.trigger_id == newcomer->ref.trigger_id)
        tpt_naming_decide (self, "animal", newcomer->species);
    }
  free_newcomer (newcomer, NULL);
}

static void
answered_cb (AdwMessageDialog *dialog, const char *response, gpointer data)
{
  const Newcomer *asked = data;
  TptNamingView *self = asked->view;
  g_autoptr (TptJobEdit) job = NULL;
  g_autoptr (TptRecord) record = NULL;
  g_autofree char *what = NULL;
  Newcomer *newcomer;

  if (!g_str_equal (response, "add") || self->project == NULL)
    return;
  record = tpt_record_new (TPT_TABLE_SPECIES);
  tpt_record_set_text (record, "scientific_name", asked->species);
  what = g_strdup_printf (_("Add species %s"), asked->species);
  job = tpt_job_edit_new (what);
  tpt_job_edit_save (job, record);
  newcomer = g_memdup2 (asked, sizeof *asked);
  newcomer->view = g_object_ref (self);
  newcomer->species = g_strdup (asked->species);
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, saved_cb, newcomer);
}

/* (transfer full): as scientific names are written, the genus with a capital. */
static char *
tidy_name (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \t", -1);
  g_autoptr (GString) name = g_string_new (NULL);
  g_autofree char *first = NULL;

  for (guint i = 0; words[i] != NULL; i++)
    if (words[i][0] != '\0')
      g_string_append_printf (name, "%s%s", name->len > 0 ? " " : "", words[i]);
  first = g_utf8_strup (name->str, (gssize) (g_utf8_next_char (name->str) - name->str));
  return g_strconcat (first, g_utf8_next_char (name->str), NULL);
}

void
tpt_naming_add_species (TptNamingView *self, const char *text)
{
  Newcomer *newcomer;
  g_autofree char *heading = NULL;
  GtkWidget *dialog;

  if (!tpt_naming_is_editable (self) || text[0] == '\0')
    return;
  newcomer = g_new0 (Newcomer, 1);
  newcomer->view = g_object_ref (self);
  newcomer->ref = self->ref;
  newcomer->species = tidy_name (text);
  heading = g_strdup_printf (_("Add “%s” to the species list?"), newcomer->species);
  dialog = adw_message_dialog_new (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), heading,
                                   _("It goes on the list of this project by this scientific name, and the trigger is named by "
                                     "it. Its common names and how sensitive it is can be filled in later."));
  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", _("_Cancel"), "add", _("_Add and name"), NULL);
  adw_message_dialog_set_response_appearance (ADW_MESSAGE_DIALOG (dialog), "add", ADW_RESPONSE_SUGGESTED);
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "add");
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect_data (dialog, "response", G_CALLBACK (answered_cb), newcomer, free_newcomer, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}
