#include "config.h"

#include "tpt-change-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-job-names.h"
#include "tpt-words.h"

#define SHOWN 60 /* whoever wants one further down types more of it */

struct _TptChangeDialog {
  GtkWindow parent_instance;

  GtkWidget *name;
  GtkSearchEntry *search;
  GtkListBox *names;
  GtkLabel *note;

  TptJobNames *job;          /* (owned) (nullable): once it has run */
  GCancellable *cancellable; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptChangeDialog, tpt_change_dialog, GTK_TYPE_WINDOW)

enum {
  SIGNAL_NAMED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
cancel_cb (TptChangeDialog *self)
{
  gtk_window_close (GTK_WINDOW (self));
}

static void
name_cb (TptChangeDialog *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->names);
  g_autofree char *species = NULL;

  if (row == NULL)
    return;
  species = g_strdup (g_object_get_data (G_OBJECT (row), "species"));
  g_signal_emit (self, signals[SIGNAL_NAMED], 0, species);
  gtk_window_close (GTK_WINDOW (self));
}

static void
selected_cb (TptChangeDialog *self)
{
  if (self->names == NULL) /* the list goes, and its rows with it */
    return;
  gtk_widget_set_sensitive (self->name, gtk_list_box_get_selected_row (self->names) != NULL);
}

static void
add_row (TptChangeDialog *self, const TptName *name)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *first = gtk_label_new (name->common != NULL ? name->common : name->species);
  GtkWidget *second = gtk_label_new (name->common != NULL ? name->species : NULL);
  g_autofree char *label =
    name->common != NULL ? g_strdup_printf (_("%1$s, %2$s"), name->common, name->species) : g_strdup (name->species);

  gtk_label_set_xalign (GTK_LABEL (first), 0);
  gtk_label_set_xalign (GTK_LABEL (second), 0);
  gtk_widget_add_css_class (second, "quiet");
  gtk_widget_set_visible (second, name->common != NULL);
  gtk_widget_add_css_class (box, "name-row");
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data_full (G_OBJECT (row), "species", g_strdup (name->species), g_free);
  gtk_list_box_append (self->names, row);
}

static void
search_cb (TptChangeDialog *self)
{
  g_autoptr (GPtrArray) found = NULL;
  GtkListBoxRow *old;

  if (self->job == NULL)
    return;
  found = tpt_names_search (tpt_job_names_get_names (self->job), gtk_editable_get_text (GTK_EDITABLE (self->search)));
  while ((old = gtk_list_box_get_row_at_index (self->names, 0)) != NULL)
    gtk_list_box_remove (self->names, GTK_WIDGET (old));
  for (guint i = 0; i < MIN (found->len, SHOWN); i++)
    add_row (self, found->pdata[i]);
  gtk_list_box_select_row (self->names, gtk_list_box_get_row_at_index (self->names, 0));
  selected_cb (self);
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptChangeDialog) self = data;
  g_autoptr (GError) error = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        gtk_label_set_label (self->note, error->message);
      return;
    }
  self->job = g_object_ref (TPT_JOB_NAMES (tpt_project_get_job (result)));
  if (tpt_job_names_get_names (self->job)->len == 0)
    gtk_label_set_label (self->note, _("No species are on record yet. Add some under Species… in the menu."));
  search_cb (self);
}

/* Down goes from the search into the list. */
static gboolean
key_cb (TptChangeDialog *self, guint keyval)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (self->names);

  if (keyval != GDK_KEY_Down || row == NULL)
    return FALSE;
  return gtk_widget_grab_focus (GTK_WIDGET (row));
}

static void
tpt_change_dialog_dispose (GObject *object)
{
  TptChangeDialog *self = TPT_CHANGE_DIALOG (object);

  g_cancellable_cancel (self->cancellable);
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_CHANGE_DIALOG);

  G_OBJECT_CLASS (tpt_change_dialog_parent_class)->dispose (object);
}

static void
tpt_change_dialog_finalize (GObject *object)
{
  TptChangeDialog *self = TPT_CHANGE_DIALOG (object);

  g_clear_object (&self->job);
  g_object_unref (self->cancellable);

  G_OBJECT_CLASS (tpt_change_dialog_parent_class)->finalize (object);
}

static void
tpt_change_dialog_class_init (TptChangeDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_change_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_change_dialog_finalize;
  signals[SIGNAL_NAMED] = g_signal_new ("named", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-change-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, TptChangeDialog, name);
  gtk_widget_class_bind_template_child (widget_class, TptChangeDialog, search);
  gtk_widget_class_bind_template_child (widget_class, TptChangeDialog, names);
  gtk_widget_class_bind_template_child (widget_class, TptChangeDialog, note);
  gtk_widget_class_bind_template_callback (widget_class, cancel_cb);
  gtk_widget_class_bind_template_callback (widget_class, name_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_cb);
  gtk_widget_class_bind_template_callback (widget_class, selected_cb);
}

static void
tpt_change_dialog_init (TptChangeDialog *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->search), keys);
}

TptChangeDialog *
tpt_change_dialog_new (GtkWindow *parent, TptProject *project, guint triggers)
{
  TptChangeDialog *self = g_object_new (TPT_TYPE_CHANGE_DIALOG, "transient-for", parent, NULL);
  g_autoptr (TptJobNames) job = tpt_job_names_new (NULL, -1, NULL);
  g_autofree char *number = tpt_words_number (triggers);
  g_autofree char *title =
    g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Name %s trigger", "Name %s triggers", triggers), number);

  gtk_window_set_title (GTK_WINDOW (self), title);
  tpt_project_run_async (project, TPT_JOB (job), self->cancellable, read_cb, g_object_ref (self));
  return self;
}
