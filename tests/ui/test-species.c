#include "config.h"

#include <adwaita.h>

#include "form-helpers.h"
#include "tpt-names-editor.h"
#include "tpt-species-dialog.h"
#include "tpt-species-line.h"
#include "tpt-style.h"

typedef struct {
  char *folder;
  char *path;
  TptProject *project;
  GtkWindow *window;
  GtkWidget *dialog;
} Fixture;

static gboolean
has_rows (gpointer data)
{
  return find_inside (((Fixture *) data)->dialog, TPT_TYPE_SPECIES_LINE) != NULL;
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (TptRecord) fox = tpt_record_new (TPT_TABLE_SPECIES);

  f->folder = g_dir_make_tmp ("species-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (f->path);
  UI_SAVE (f->project, "Add species", TPT_TABLE_SPECIES, "scientific_name", "Lutra lutra", "sensitivity", "medium");
  tpt_record_set_text (fox, "scientific_name", "Alopex ficticius");
  tpt_record_set_name (fox, "en", "Made-up fox");
  tpt_record_set_name (fox, "es", "Zorro árbol");
  tpt_record_set_name (fox, "iba", "Rubah");
  ui_save (f->project, "Add species", fox);
  f->window = GTK_WINDOW (adw_window_new ());
  gtk_window_present (f->window);
  f->dialog = GTK_WIDGET (tpt_species_dialog_new (f->window, f->project));
  gtk_window_present (GTK_WINDOW (f->dialog));
  ui_wait (has_rows, f);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->dialog));
  gtk_window_destroy (f->window);
  ui_settle ();
  g_object_unref (f->project);
  g_remove (f->path);
  g_free (f->path);
  g_rmdir (f->folder);
  g_free (f->folder);
}

static GtkWidget *
find_line (GtkWidget *root, const char *scientific)
{
  for (GtkWidget *at = gtk_widget_get_first_child (root); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = TPT_IS_SPECIES_LINE (at) &&
                             g_strcmp0 (tpt_record_get_code (tpt_species_line_get_record (TPT_SPECIES_LINE (at))), scientific) == 0
                           ? at : find_line (at, scientific);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
test_lines (Fixture *f, gconstpointer data)
{
  g_autofree char *seen = NULL, *free = NULL;
  GtkWidget *kept = find_line (f->dialog, "Lutra lutra"), *fox = find_line (f->dialog, "Alopex ficticius");

  seen = gtk_test_accessible_check_property (GTK_ACCESSIBLE (kept), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                             "Lutra lutra, Lutra lutra, not seen yet, sensitivity medium");
  g_assert_cmpstr (seen, ==, NULL);
  free = gtk_test_accessible_check_property (GTK_ACCESSIBLE (fox), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                             "Made-up fox, Alopex ficticius, not seen yet");
  g_assert_cmpstr (free, ==, NULL);
  g_assert_false (gtk_widget_get_mapped (find_button (f->dialog, "Add the starter list"))); /* the valley is not in Borneo */
}

static void
test_search (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *text;
    gboolean fox;
  } cases[] = {
    { "fox", TRUE }, { "FICTI", TRUE }, { "arbol", TRUE }, { "zorro á", TRUE }, { "rubah", TRUE }, { "lutra", FALSE }, { "fox lutra", FALSE }, { "", TRUE },
  };
  GtkWidget *fox = find_line (f->dialog, "Alopex ficticius");

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (tpt_species_line_fits (TPT_SPECIES_LINE (fox), cases[i].text), ==, cases[i].fox);
}

/* What a form opened from here tells is shown as it is, whatever signs it has. */
static void
test_told (Fixture *f, gconstpointer data)
{
  gtk_widget_activate_action (f->dialog, "win.complain", "s", "“Fox & <hare>” has a history on record and stays");
  ui_settle ();
  g_assert_nonnull (ui_find_label (f->dialog, "“Fox & <hare>” has a history on record and stays"));
}

static GtkWindow *
find_dialog_over (GtkWidget *parent)
{
  g_autoptr (GList) all = gtk_window_list_toplevels ();

  for (GList *l = all; l != NULL; l = l->next)
    if (gtk_window_get_transient_for (l->data) == GTK_WINDOW (parent))
      return l->data;
  return NULL;
}

/* A language is added, one taken away; the others stay. */
static void
test_edit (Fixture *f, gconstpointer data)
{
  GtkWindow *form;
  g_autoptr (TptRecord) fox = NULL;
  GHashTable *names;

  g_signal_emit_by_name (find_line (f->dialog, "Alopex ficticius"), "edit-asked");
  form = find_dialog_over (f->dialog);
  g_assert_nonnull (form);
  gtk_editable_set_text (GTK_EDITABLE (find_labelled (GTK_WIDGET (form), GTK_TYPE_ENTRY, "Name in English")), "");
  g_signal_emit_by_name (find_button (GTK_WIDGET (form), "_Another language"), "clicked");
  gtk_editable_set_text (GTK_EDITABLE (find_labelled (GTK_WIDGET (form), GTK_TYPE_ENTRY, "Name")), "Renard");
  g_assert_false (gtk_widget_get_sensitive (find_save (form))); /* a name in no language */
  gtk_editable_set_text (GTK_EDITABLE (find_labelled (GTK_WIDGET (form), GTK_TYPE_ENTRY, "Code of the language")), "es");
  g_assert_false (gtk_widget_get_sensitive (find_save (form))); /* Spanish has a line already */
  gtk_editable_set_text (GTK_EDITABLE (find_labelled (GTK_WIDGET (form), GTK_TYPE_ENTRY, "Code of the language")), "fr");
  press_and_wait (form);
  fox = get_only (f->project, TPT_TABLE_SPECIES, "scientific_name", "Alopex ficticius");
  names = tpt_record_get_names (fox);
  g_assert_cmpstr (g_hash_table_lookup (names, "en"), ==, NULL);
  g_assert_cmpstr (g_hash_table_lookup (names, "fr"), ==, "Renard");
  g_assert_cmpstr (g_hash_table_lookup (names, "es"), ==, "Zorro árbol");
  g_assert_cmpstr (g_hash_table_lookup (names, "iba"), ==, "Rubah");
}

static gboolean
is_gone (gpointer data)
{
  return find_line (((Fixture *) data)->dialog, "Lutra lutra") == NULL;
}

static void
test_remove (Fixture *f, gconstpointer data)
{
  g_autoptr (GListModel) rows = NULL;

  g_signal_emit_by_name (find_line (f->dialog, "Lutra lutra"), "remove-asked");
  ui_wait (is_gone, f);
  rows = look_up (f->project, TPT_TABLE_SPECIES, "scientific_name", "Lutra lutra");
  g_assert_cmpuint (g_list_model_get_n_items (rows), ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();
  g_test_add ("/species/lines", Fixture, NULL, set_up, test_lines, tear_down);
  g_test_add ("/species/search", Fixture, NULL, set_up, test_search, tear_down);
  g_test_add ("/species/told", Fixture, NULL, set_up, test_told, tear_down);
  g_test_add ("/species/edit", Fixture, NULL, set_up, test_edit, tear_down);
  g_test_add ("/species/remove", Fixture, NULL, set_up, test_remove, tear_down);
  return g_test_run ();
}
