#include "config.h"

#include "tpt-new-project-dialog.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-search.h"

/* Either is there, depending on who packed the zones. */
#define ZONE_TABLE "/usr/share/zoneinfo/tzdata.zi"
#define ZONE_TABLE_SHORT "/usr/share/zoneinfo/zone1970.tab"

struct _TptNewProjectDialog {
  TptFormDialog parent_instance;

  TptNewProjectFunc func;
  gpointer func_data;
  char *path;       /* (owned) (nullable): where to; follows the name until chosen */
  gboolean chosen;

  GtkEditable *name;
  GtkDropDown *zone;
  GStrv zones;      /* (owned) */
  GtkButton *choose;
};

G_DEFINE_FINAL_TYPE (TptNewProjectDialog, tpt_new_project_dialog, TPT_TYPE_FORM_DIALOG)

static int
compare_names_cb (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(const char *const *) a, *(const char *const *) b);
}

/* Lines "Z name …" and, for other names of a zone, "L target name". */
static void
read_zone_table (GPtrArray *names, GStrv lines)
{
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) words = g_strsplit (lines[i], " ", -1);
      guint n = g_strv_length (words);

      if (n > 2 && g_str_equal (words[0], "Z") && strchr (words[1], '/') != NULL)
        g_ptr_array_add (names, g_strdup (words[1]));
      else if (n > 2 && g_str_equal (words[0], "L") && strchr (words[2], '/') != NULL)
        g_ptr_array_add (names, g_strdup (words[2]));
    }
}

/* Lines "countries, position, name, comments" with tabs between. */
static void
read_short_table (GPtrArray *names, GStrv lines)
{
  for (guint i = 0; lines[i] != NULL; i++)
    {
      g_auto (GStrv) cells = g_strsplit (lines[i], "\t", -1);

      if (*lines[i] != '#' && g_strv_length (cells) > 2)
        g_ptr_array_add (names, g_strdup (cells[2]));
    }
}

/* The zone of this machine and UTC are there even without a table. */
static GStrv
read_zones (const char *own)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  gboolean full = g_file_get_contents (ZONE_TABLE, &text, NULL, NULL);

  if (full || g_file_get_contents (ZONE_TABLE_SHORT, &text, NULL, NULL))
    {
      lines = g_strsplit (text, "\n", -1);
      (full ? read_zone_table : read_short_table) (names, lines);
    }
  g_ptr_array_add (names, g_strdup (own));
  g_ptr_array_add (names, g_strdup ("UTC"));
  g_ptr_array_sort (names, compare_names_cb);
  for (guint i = names->len - 1; i > 0; i--)
    if (g_str_equal (names->pdata[i], names->pdata[i - 1]))
      g_ptr_array_remove_index (names, i);
  g_ptr_array_set_free_func (names, NULL);
  g_ptr_array_add (names, NULL);
  return (GStrv) g_ptr_array_free (names, FALSE);
}

/* (transfer full): a machine that tells only an offset is taken for UTC. */
static char *
find_own_zone (void)
{
  g_autoptr (GTimeZone) local = g_time_zone_new_local ();
  const char *name = g_time_zone_get_identifier (local);

  return g_strdup (strchr (name, '/') != NULL && g_ascii_isalpha (*name) ? name : "UTC");
}

static void
check (TptNewProjectDialog *self)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (self->name)));
  gboolean named = *name != '\0';
  gboolean there = self->path != NULL && g_file_test (self->path, G_FILE_TEST_EXISTS);

  tpt_form_dialog_set_message (TPT_FORM_DIALOG (self),
                               there ? _("There is a file of this name already; it is never overwritten.") : NULL);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), named && self->path != NULL && !there);
}

static void
show_path (TptNewProjectDialog *self)
{
  g_autofree char *shown = self->path != NULL ? g_filename_display_name (self->path) : g_strdup (_("Choose where…"));

  gtk_button_set_label (self->choose, shown);
  check (self);
}

static void
name_cb (TptNewProjectDialog *self)
{
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  g_autofree char *stem = g_strstrip (g_strdup (gtk_editable_get_text (self->name)));
  g_autofree char *file = NULL;

  if (!self->chosen)
    {
      g_strdelimit (stem, "/\\:*?\"<>|", '-');
      file = g_strconcat (stem, ".gpkg", NULL);
      g_free (self->path);
      self->path = *stem != '\0' ? g_build_filename (documents != NULL ? documents : g_get_home_dir (), file, NULL) : NULL;
    }
  show_path (self);
}

void
tpt_new_project_dialog_set_file (TptNewProjectDialog *self, const char *path)
{
  g_free (self->path);
  self->path = g_str_has_suffix (path, ".gpkg") ? g_strdup (path) : g_strconcat (path, ".gpkg", NULL);
  self->chosen = TRUE;
  show_path (self);
}

static void
chosen_cb (GtkNativeDialog *chooser, int response, TptNewProjectDialog *self)
{
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser));
      g_autofree char *path = g_file_get_path (file);

      tpt_new_project_dialog_set_file (self, path);
    }
  g_object_unref (chooser);
}

static void
choose_cb (TptNewProjectDialog *self)
{
  GtkFileChooserNative *chooser =
    gtk_file_chooser_native_new (_("The project’s file"), GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_SAVE, _("_Choose"), NULL);
  g_autofree char *name = self->path != NULL ? g_path_get_basename (self->path) : g_strdup (_("project.gpkg"));

  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), name);
  g_signal_connect_object (chooser, "response", G_CALLBACK (chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

typedef struct {
  char *path, *name, *zone;
} Wish;

static void
free_wish (gpointer data)
{
  Wish *wish = data;

  g_free (wish->path);
  g_free (wish->name);
  g_free (wish->zone);
  g_free (wish);
}

static void
create_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Wish *wish = data;
  GError *failure = NULL;
  TptProject *project = tpt_project_create (wish->path, wish->name, wish->zone, &failure);

  if (project != NULL)
    g_task_return_pointer (task, project, g_object_unref);
  else
    g_task_return_error (task, failure);
}

static void
created_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  TptNewProjectDialog *self = TPT_NEW_PROJECT_DIALOG (source);
  g_autoptr (GError) error = NULL;
  g_autoptr (TptProject) project = g_task_propagate_pointer (G_TASK (result), &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (project == NULL)
    {
      tpt_form_dialog_set_busy (TPT_FORM_DIALOG (self), FALSE);
      tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
      return;
    }
  tpt_project_watch (project);
  self->func (project, self->func_data);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
tpt_new_project_dialog_save (TptFormDialog *dialog)
{
  TptNewProjectDialog *self = TPT_NEW_PROJECT_DIALOG (dialog);
  g_autoptr (GTask) task = g_task_new (self, tpt_form_dialog_get_cancellable (dialog), created_cb, NULL);
  Wish *wish = g_new0 (Wish, 1);

  wish->path = g_strdup (self->path);
  wish->name = g_strstrip (g_strdup (gtk_editable_get_text (self->name)));
  wish->zone = g_strdup (self->zones[gtk_drop_down_get_selected (self->zone)]);
  g_task_set_source_tag (task, tpt_new_project_dialog_save);
  g_task_set_task_data (task, wish, free_wish);
  tpt_form_dialog_set_busy (dialog, TRUE);
  g_task_run_in_thread (task, create_in_thread);
}

static void
choose_zone (TptNewProjectDialog *self, const char *zone)
{
  for (guint i = 0; self->zones[i] != NULL; i++)
    if (g_str_equal (self->zones[i], zone))
      gtk_drop_down_set_selected (self->zone, i);
}

static void
fill (TptNewProjectDialog *self)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  g_autofree char *own = find_own_zone ();

  self->name = GTK_EDITABLE (gtk_entry_new ());
  gtk_entry_set_activates_default (GTK_ENTRY (self->name), TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->name), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Name"), -1);
  g_signal_connect_swapped (self->name, "changed", G_CALLBACK (name_cb), self);
  tpt_form_dialog_add (dialog, _("Name"), GTK_WIDGET (self->name));

  self->zones = read_zones (own);
  self->zone = GTK_DROP_DOWN (gtk_drop_down_new_from_strings ((const char *const *) self->zones));
  tpt_search_anywhere (self->zone);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->zone), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Time zone"), -1);
  choose_zone (self, own);
  tpt_form_dialog_add (dialog, _("Time zone of the stations"), GTK_WIDGET (self->zone));

  self->choose = GTK_BUTTON (gtk_button_new ());
  g_signal_connect_swapped (self->choose, "clicked", G_CALLBACK (choose_cb), self);
  tpt_form_dialog_add (dialog, _("File; pictures are kept in folders beside it"), GTK_WIDGET (self->choose));
}

static void
tpt_new_project_dialog_finalize (GObject *object)
{
  TptNewProjectDialog *self = TPT_NEW_PROJECT_DIALOG (object);

  g_free (self->path);
  g_strfreev (self->zones);

  G_OBJECT_CLASS (tpt_new_project_dialog_parent_class)->finalize (object);
}

static void
tpt_new_project_dialog_class_init (TptNewProjectDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_new_project_dialog_finalize;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_new_project_dialog_save;
}

static void
tpt_new_project_dialog_init (TptNewProjectDialog *self)
{
}

TptNewProjectDialog *
tpt_new_project_dialog_new (GtkWindow *parent, TptNewProjectFunc func, gpointer data)
{
  TptNewProjectDialog *self = g_object_new (TPT_TYPE_NEW_PROJECT_DIALOG, NULL);

  self->func = func;
  self->func_data = data;
  tpt_form_dialog_set_up (TPT_FORM_DIALOG (self), parent, NULL, _("New project"), _("_Make"));
  gtk_window_set_default_size (GTK_WINDOW (self), 520, 340);
  fill (self);
  name_cb (self);
  return self;
}

void
tpt_new_project_dialog_present (GtkWindow *parent, TptNewProjectFunc func, gpointer data)
{
  gtk_window_present (GTK_WINDOW (tpt_new_project_dialog_new (parent, func, data)));
}
