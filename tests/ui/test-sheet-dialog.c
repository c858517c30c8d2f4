#include "config.h"

#include <adwaita.h>
#include <string.h>

#include "tpt-sheet-dialog.h"
#include "tpt-style.h"
#include "ui-helpers.h"

typedef struct {
  char *folder;
  char *path;
  TptProject *project;
  GtkWindow *window;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("sheet-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  f->project = ui_make_project (f->path);
  f->window = GTK_WINDOW (adw_window_new ());
  gtk_window_present (f->window);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  static const char *const names[] = { "a.pdf", "a.csv", "b.pdf", "b.csv", "valley.gpkg" };

  gtk_window_destroy (f->window);
  ui_settle ();
  g_object_unref (f->project);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (f->folder, names[i], NULL);
      g_remove (path);
    }
  g_free (f->path);
  g_rmdir (f->folder);
  g_free (f->folder);
}

static gboolean
is_gone (gpointer dialog)
{
  return *(gpointer *) dialog == NULL;
}

static gboolean
has_fault (gpointer dialog)
{
  return *tpt_sheet_dialog_get_fault (dialog) != '\0';
}

static gboolean
is_named (GtkWidget *widget, const char *label)
{
  g_autofree char *wrong = gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, label);

  return wrong == NULL;
}

/* The control of @type with that accessible label; there is one. */
static GtkWidget *
find_named (GtkWidget *widget, GType type, const char *label)
{
  for (GtkWidget *at = gtk_widget_get_first_child (widget); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *found = G_TYPE_CHECK_INSTANCE_TYPE (at, type) && is_named (at, label) ? at : find_named (at, type, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static guint
count_offered (TptSheetDialog *dialog)
{
  GtkWidget *stations = find_named (GTK_WIDGET (dialog), GTK_TYPE_DROP_DOWN, "For which stations");

  return g_list_model_get_n_items (gtk_drop_down_get_model (GTK_DROP_DOWN (stations)));
}

static void
choose (TptSheetDialog *dialog, const char *label, guint item)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find_named (GTK_WIDGET (dialog), GTK_TYPE_DROP_DOWN, label)), item);
}

static void
write_and_wait (TptSheetDialog *dialog, Fixture *f, const char *name)
{
  g_autofree char *path = g_build_filename (f->folder, name, NULL);

  g_object_add_weak_pointer (G_OBJECT (dialog), (gpointer *) &dialog);
  tpt_sheet_dialog_write_to (dialog, path);
  ui_wait (is_gone, &dialog);
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
}

static char *
read_file (Fixture *f, const char *name, gsize *length)
{
  g_autofree char *path = g_build_filename (f->folder, name, NULL);
  GError *error = NULL;
  char *text = NULL;

  g_file_get_contents (path, &text, length, &error);
  g_assert_no_error (error);
  return text;
}

static void
test_chosen_station (Fixture *f, gconstpointer data)
{
  TptSheetDialog *dialog = tpt_sheet_dialog_present (f->window, f->project, "ALDER");
  g_autofree char *csv = NULL;

  g_assert_cmpuint (count_offered (dialog), ==, 2);
  choose (dialog, "For which stations", 1);
  write_and_wait (dialog, f, "a.pdf");
  csv = read_file (f, "a.csv", NULL);
  g_assert_nonnull (strstr (csv, "ALDER,,,,,,,,,K-1,Camera one,camera,"));
  g_assert_null (strstr (csv, "BIRCH"));
}

static void
test_paper (Fixture *f, gconstpointer data)
{
  /* Points: ISO 216 and ANSI/ASME Y14.1, from memory. */
  static const char *const boxes[] = { "595.2", "612 792" };

  for (guint i = 0; i < G_N_ELEMENTS (boxes); i++)
    {
      TptSheetDialog *dialog = tpt_sheet_dialog_present (f->window, f->project, "ALDER");
      g_autofree char *pdf = NULL;
      gsize length;

      choose (dialog, "For which stations", 1);
      choose (dialog, "Paper", i);
      write_and_wait (dialog, f, i == 0 ? "a.pdf" : "b.pdf");
      pdf = read_file (f, i == 0 ? "a.pdf" : "b.pdf", &length);
      g_assert_nonnull (memmem (pdf, length, boxes[i], strlen (boxes[i])));
    }
}

/* Places are secrets unless somebody says otherwise, and then it is said. */
static void
test_exact (Fixture *f, gconstpointer data)
{
  TptSheetDialog *dialog = tpt_sheet_dialog_present (f->window, f->project, "ALDER");
  const char *warning = "Coordinates lead to equipment. Every page will say that it is not for handing out.";
  GtkWidget *exact;

  ui_settle ();
  exact = find_named (GTK_WIDGET (dialog), GTK_TYPE_SWITCH, "Exact places");
  g_assert_false (gtk_switch_get_active (GTK_SWITCH (exact)));
  g_assert_null (ui_find_label (GTK_WIDGET (dialog), warning));
  gtk_switch_set_active (GTK_SWITCH (exact), TRUE);
  ui_settle ();
  g_assert_nonnull (ui_find_label (GTK_WIDGET (dialog), warning));
  gtk_window_destroy (GTK_WINDOW (dialog));
}

static void
test_refusal (Fixture *f, gconstpointer data)
{
  TptSheetDialog *dialog = tpt_sheet_dialog_present (f->window, f->project, NULL);
  g_autofree char *path = g_build_filename (f->folder, "a.txt", NULL);

  g_assert_cmpuint (count_offered (dialog), ==, 1);
  g_assert_nonnull (find_named (GTK_WIDGET (dialog), GTK_TYPE_BUTTON, "Save the visit sheet"));
  g_assert_nonnull (find_named (GTK_WIDGET (dialog), GTK_TYPE_BUTTON, "Cancel"));
  tpt_sheet_dialog_write_to (dialog, path);
  ui_wait (has_fault, dialog);
  ui_settle ();
  g_assert_nonnull (ui_find_label (GTK_WIDGET (dialog), tpt_sheet_dialog_get_fault (dialog)));
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  gtk_widget_activate_action (GTK_WIDGET (dialog), "sheet.cancel", NULL);
}

/* Closed while it is being written, nothing is left hanging. */
static void
test_closing (Fixture *f, gconstpointer data)
{
  TptSheetDialog *dialog = tpt_sheet_dialog_present (f->window, f->project, "ALDER");
  g_autofree char *path = g_build_filename (f->folder, "a.pdf", NULL);

  g_object_add_weak_pointer (G_OBJECT (dialog), (gpointer *) &dialog);
  choose (dialog, "For which stations", 1);
  tpt_sheet_dialog_write_to (dialog, path);
  gtk_window_destroy (GTK_WINDOW (dialog));
  ui_wait (is_gone, &dialog);
}

#define ADD(path, func) g_test_add ("/ui/sheet-dialog/" path, Fixture, NULL, set_up, func, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  adw_init ();
  tpt_style_install ();
  ADD ("chosen-station", test_chosen_station);
  ADD ("paper", test_paper);
  ADD ("exact", test_exact);
  ADD ("refusal", test_refusal);
  ADD ("closing", test_closing);
  return g_test_run ();
}
