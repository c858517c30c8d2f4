/* A species that is not on the list yet: asks what it is called, adds it and names
 * the trigger by it. */
#include "config.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-job-edit.h"
#include "tpt-naming-private.h"
#include "tpt-near-name.h"

typedef struct {
  TptNamingView *view;  /* (owned) */
  gint64 trigger_id;    /* on screen as it was asked */
  GtkEntry *scientific; /* (owned): of the question, which is closed before it tells its answer */
  GtkEntry *common;     /* (owned): likewise */
  GtkButton *near;      /* (unowned): as long as it is open */
  char *near_species;   /* (owned) (nullable) */
} Newcomer;

/* What is being saved. */
typedef struct {
  TptNamingView *view; /* (owned) */
  gint64 trigger_id;
  char *species; /* (owned) */
} Saving;

static void
free_newcomer (gpointer data, GClosure *closure)
{
  Newcomer *newcomer = data;

  g_object_unref (newcomer->scientific);
  g_object_unref (newcomer->common);
  g_object_unref (newcomer->view);
  g_free (newcomer->near_species);
  g_free (newcomer);
}

static void
free_saving (Saving *saving)
{
  g_object_unref (saving->view);
  g_free (saving->species);
  g_free (saving);
}

/* (transfer full): with single blanks between words, none around them. */
static char *
tidy_text (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \t", -1);
  g_autoptr (GString) tidy = g_string_new (NULL);

  for (guint i = 0; words[i] != NULL; i++)
    if (words[i][0] != '\0')
      g_string_append_printf (tidy, "%s%s", tidy->len > 0 ? " " : "", words[i]);
  return g_strdup (tidy->str);
}

static char *
read_entry (GtkEntry *entry)
{
  return tidy_text (gtk_editable_get_text (GTK_EDITABLE (entry)));
}

/* The two letters that common names are kept by. */
static char *
get_language (void)
{
  const char *name = g_get_language_names ()[0];

  return g_ascii_isalpha (name[0]) && g_ascii_isalpha (name[1]) ? g_strndup (name, 2) : g_strdup ("en");
}

static void
name_it (TptNamingView *self, gint64 trigger_id, const char *species)
{
  tpt_naming_free_keys (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->ref.trigger_id == trigger_id)
    tpt_naming_decide (self, "animal", species);
}

/* --- saving ------------------------------------------------------------------------ */

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Saving *saving = data;
  TptNamingView *self = saving->view;
  g_autoptr (GError) error = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
  else if (self->project == TPT_PROJECT (source))
    {
      tpt_name_ranks_renew (self->ranks);
      name_it (self, saving->trigger_id, saving->species);
    }
  free_saving (saving);
}

static void
save (Newcomer *newcomer)
{
  TptNamingView *self = newcomer->view;
  g_autoptr (TptRecord) record = tpt_record_new (TPT_TABLE_SPECIES);
  g_autofree char *species = read_entry (newcomer->scientific);
  g_autofree char *common = read_entry (newcomer->common);
  g_autofree char *language = get_language ();
  g_autofree char *what = g_strdup_printf (_("Add species %s"), species);
  g_autoptr (TptJobEdit) job = tpt_job_edit_new (what);
  Saving *saving;

  if (species[0] == '\0')
    return;
  tpt_record_set_text (record, "scientific_name", species);
  if (common[0] != '\0')
    tpt_record_set_name (record, language, common);
  tpt_job_edit_save (job, record);
  saving = g_new0 (Saving, 1);
  saving->view = g_object_ref (self);
  saving->trigger_id = newcomer->trigger_id;
  saving->species = g_steal_pointer (&species);
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, saved_cb, saving);
}

/* --- asking ------------------------------------------------------------------------ */

static void
answered_cb (AdwMessageDialog *dialog, const char *response, gpointer data)
{
  Newcomer *newcomer = data;

  if (newcomer->view->project == NULL || g_str_equal (response, "cancel"))
    return;
  if (g_str_equal (response, "near"))
    name_it (newcomer->view, newcomer->trigger_id, newcomer->near_species);
  else
    save (newcomer);
}

static void
near_cb (AdwMessageDialog *dialog)
{
  adw_message_dialog_response (dialog, "near");
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* A name on the list that is nearly the one typed in either entry. */
static void
show_near (Newcomer *newcomer, const char *scientific, const char *common)
{
  GPtrArray *names = tpt_name_pad_get_names (newcomer->view->pad);
  const TptName *near = tpt_near_name_find (names, scientific);
  g_autofree char *text = NULL;

  if (near == NULL)
    near = tpt_near_name_find (names, common);
  g_free (newcomer->near_species);
  newcomer->near_species = near != NULL ? g_strdup (near->species) : NULL;
  if (near != NULL)
    text = g_strdup_printf (_("Did you mean %s? Use it"), near->common != NULL ? near->common : near->species);
  gtk_button_set_label (newcomer->near, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (newcomer->near), near != NULL);
}

static void
typed_cb (AdwMessageDialog *dialog)
{
  Newcomer *newcomer = g_object_get_data (G_OBJECT (dialog), "newcomer");
  g_autofree char *scientific = read_entry (newcomer->scientific);
  g_autofree char *common = read_entry (newcomer->common);
  gboolean filled = scientific[0] != '\0';

  adw_message_dialog_set_response_enabled (dialog, "add", filled);
  adw_message_dialog_set_default_response (dialog, filled ? "add" : NULL);
  show_near (newcomer, scientific, common);
}

/* (transfer full) */
static GtkEntry *
add_entry (GtkGrid *grid, int row, const char *label, const char *text, AdwMessageDialog *dialog)
{
  GtkWidget *name = gtk_label_new (label);
  GtkWidget *entry = gtk_entry_new ();

  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_entry_set_activates_default (GTK_ENTRY (entry), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_object (entry, "changed", G_CALLBACK (typed_cb), dialog, G_CONNECT_SWAPPED);
  gtk_grid_attach (grid, name, 0, row, 1, 1);
  gtk_grid_attach (grid, entry, 1, row, 1, 1);
  return GTK_ENTRY (g_object_ref (entry));
}

static void
add_entries (Newcomer *newcomer, AdwMessageDialog *dialog, const char *text)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());
  gboolean scientific = tpt_near_name_is_scientific (text);

  gtk_grid_set_row_spacing (grid, 6);
  gtk_grid_set_column_spacing (grid, 10);
  newcomer->scientific = add_entry (grid, 0, _("Scientific name"), scientific ? text : "", dialog);
  newcomer->common = add_entry (grid, 1, _("Common name"), scientific ? "" : text, dialog);
  newcomer->near = GTK_BUTTON (gtk_button_new ());
  g_signal_connect_object (newcomer->near, "clicked", G_CALLBACK (near_cb), dialog, G_CONNECT_SWAPPED);
  gtk_grid_attach (grid, GTK_WIDGET (newcomer->near), 0, 2, 2, 1);
  adw_message_dialog_set_extra_child (dialog, GTK_WIDGET (grid));
}

static AdwMessageDialog *
make_question (TptNamingView *self, const char *text)
{
  g_autofree char *heading = g_strdup_printf (_("Add “%s” to the species list?"), text);
  AdwMessageDialog *dialog =
    ADW_MESSAGE_DIALOG (adw_message_dialog_new (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), heading,
                                                _("It goes on the list of this project, and the trigger is named by it. How "
                                                  "sensitive it is can be filled in later.")));

  adw_message_dialog_add_responses (dialog, "cancel", _("_Cancel"), "add", _("_Add and name"), NULL);
  adw_message_dialog_set_response_appearance (dialog, "add", ADW_RESPONSE_SUGGESTED);
  adw_message_dialog_set_close_response (dialog, "cancel");
  return dialog;
}

void
tpt_naming_add_species (TptNamingView *self, const char *text)
{
  g_autofree char *tidy = tidy_text (text);
  AdwMessageDialog *dialog;
  Newcomer *newcomer;

  if (!tpt_naming_is_editable (self) || tidy[0] == '\0')
    return;
  newcomer = g_new0 (Newcomer, 1);
  newcomer->view = g_object_ref (self);
  newcomer->trigger_id = self->ref.trigger_id;
  dialog = make_question (self, tidy);
  g_object_set_data (G_OBJECT (dialog), "newcomer", newcomer);
  add_entries (newcomer, dialog, tidy);
  typed_cb (dialog);
  g_signal_connect_data (dialog, "response", G_CALLBACK (answered_cb), newcomer, free_newcomer, 0);
  gtk_window_set_focus (GTK_WINDOW (dialog), GTK_WIDGET (newcomer->scientific));
  gtk_window_present (GTK_WINDOW (dialog));
}
