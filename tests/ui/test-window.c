#include "config.h"

#include <adwaita.h>

#include "db.h"
#include "tpt-cautions-dialog.h"
#include "tpt-check-dialog.h"
#include "tpt-demo-dialog.h"
#include "tpt-due-list.h"
#include "tpt-demo.h"
#include "tpt-error.h"
#include "tpt-record-dialog.h"
#include "tpt-record-form.h"
#include "tpt-settings.h"
#include "tpt-window-private.h"
#include "ui-helpers.h"

typedef struct {
  char *folder;
  char *path; /* of a project that is not open */
  TptWindow *window;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (TptProject) project = NULL;

  f->folder = g_dir_make_tmp ("window-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "valley.gpkg", NULL);
  project = ui_make_project (f->path);
  f->window = tpt_window_new (NULL);
  gtk_window_present (GTK_WINDOW (f->window));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (f->window));
  ui_settle ();
  g_remove (f->path);
  g_free (f->path);
  g_rmdir (f->folder);
  g_free (f->folder);
}

typedef struct {
  TptWindow *window;
  const char *page;
} Wanted;

static gboolean
shows_page (gpointer data)
{
  Wanted *wanted = data;

  return g_strcmp0 (gtk_stack_get_visible_child_name (wanted->window->stack), wanted->page) == 0;
}

static void
wait_page (TptWindow *window, const char *page)
{
  ui_wait (shows_page, &(Wanted){ window, page });
}

static gboolean
is_enabled (TptWindow *window, const char *action)
{
  return g_action_group_get_action_enabled (G_ACTION_GROUP (window), action);
}

static void
activate (TptWindow *window, const char *action)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), action, NULL));
}

/* Without a project there is a welcome, and nothing to do that needs one. */
static void
test_welcome (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *action;
    gboolean enabled;
  } cases[] = {
    { "new-project", TRUE }, { "open", TRUE },        { "demo", TRUE },    { "cautions", TRUE }, { "shortcuts", TRUE },
    { "about", TRUE },       { "undo", FALSE },       { "redo", FALSE },   { "import", FALSE },  { "intake", FALSE },
    { "new-unit", FALSE },   { "new-station", FALSE }, { "check", FALSE },
  };

  g_assert_true (shows_page (&(Wanted){ f->window, "welcome" }));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_true (is_enabled (f->window, cases[i].action) == cases[i].enabled);
  g_assert_false (tpt_window_is_taken (f->window));
}

static void
test_open (Fixture *f, gconstpointer data)
{
  g_auto (GStrv) recent = NULL;

  tpt_window_open (f->window, f->path);
  g_assert_true (tpt_window_is_taken (f->window));
  g_assert_true (shows_page (&(Wanted){ f->window, "opening" }));
  wait_page (f->window, "project");
  g_assert_cmpstr (tpt_project_get_name (tpt_window_get_project (f->window)), ==, "Willow valley");
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (f->window)), ==, "Willow valley – Tapetum");
  g_assert_cmpstr (gtk_label_get_label (f->window->name), ==, "Willow valley");
  g_assert_cmpstr (gtk_widget_get_tooltip_text (f->window->undo), ==, "Undo: Record visit at Alder ford");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (f->window->undo), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Undo: Record visit at Alder ford");
  g_assert_true (is_enabled (f->window, "undo"));
  g_assert_false (is_enabled (f->window, "redo"));
  g_assert_true (is_enabled (f->window, "check"));
  recent = tpt_settings_get_list ("recent-projects");
  g_assert_cmpstr (recent[0], ==, f->path);
}

/* Giving up on an opening leads back, and its project never shows up. */
static void
test_open_cancelled (Fixture *f, gconstpointer data)
{
  tpt_window_open (f->window, f->path);
  activate (f->window, "win.back");
  g_assert_true (shows_page (&(Wanted){ f->window, "welcome" }));
  ui_settle ();
  ui_settle ();
  g_assert_null (tpt_window_get_project (f->window));
}

/* Only the last of two files asked for is shown. */
static void
test_open_twice (Fixture *f, gconstpointer data)
{
  g_autofree char *missing = g_build_filename (f->folder, "missing.gpkg", NULL);

  tpt_window_open (f->window, missing);
  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  ui_settle ();
  g_assert_cmpstr (tpt_project_get_path (tpt_window_get_project (f->window)), ==, f->path);
}

static void
write_garbage (const char *path)
{
  g_assert_true (g_file_set_contents (path, "this is a letter, not a project", -1, NULL));
}

static void
write_cut (const char *path)
{
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (path, bytes, (gssize) length / 3, NULL));
}

static void
write_newer (const char *path)
{
  g_autoptr (TptDb) db = tpt_db_open (path, TPT_DB_WRITE, NULL);

  g_assert_nonnull (db);
  g_assert_true (tpt_db_exec (db, "UPDATE settings SET value = 999 WHERE key = 'schema'", NULL));
}

static void
write_nothing (const char *path)
{
  g_assert_cmpint (g_remove (path), ==, 0);
}

/* What goes wrong is said with what to do about it; the file is not touched. */
static void
test_open_faults (Fixture *f, gconstpointer data)
{
  static const struct {
    void (*spoil) (const char *path);
    const char *title;
  } cases[] = {
    { write_newer, "This project was written by a newer version" },
    { write_cut, "This file cannot be used as a project" },
    { write_garbage, "This file cannot be used as a project" },
    { write_nothing, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      cases[i].spoil (f->path);
      tpt_window_open (f->window, f->path);
      wait_page (f->window, "fault");
      if (cases[i].title != NULL)
        g_assert_cmpstr (adw_status_page_get_title (f->window->fault), ==, cases[i].title);
      g_assert_nonnull (strstr (adw_status_page_get_description (f->window->fault), "\n\n"));
      g_assert_null (tpt_window_get_project (f->window));
    }
  activate (f->window, "win.back");
  g_assert_true (shows_page (&(Wanted){ f->window, "welcome" }));
}

/* A project that is open outlives the failure to open another. */
static void
test_open_keeps (Fixture *f, gconstpointer data)
{
  g_autofree char *missing = g_build_filename (f->folder, "missing.gpkg", NULL);

  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  tpt_window_open (f->window, missing);
  wait_page (f->window, "project");
  g_assert_cmpstr (tpt_project_get_path (tpt_window_get_project (f->window)), ==, f->path);
}

static gboolean
can_redo (gpointer window)
{
  return is_enabled (window, "redo");
}

static gboolean
cannot_redo (gpointer window)
{
  return !is_enabled (window, "redo");
}

static void
test_undo (Fixture *f, gconstpointer data)
{
  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  activate (f->window, "win.undo");
  ui_wait (can_redo, f->window);
  g_assert_cmpstr (gtk_widget_get_tooltip_text (f->window->redo), ==, "Redo: Record visit at Alder ford");
  g_assert_cmpstr (gtk_widget_get_tooltip_text (f->window->undo), ==, "Undo: Fit card");
  activate (f->window, "win.redo");
  ui_wait (cannot_redo, f->window);
  g_assert_cmpstr (gtk_widget_get_tooltip_text (f->window->undo), ==, "Undo: Record visit at Alder ford");
}

static gboolean
has_search (gpointer window)
{
  return ui_find (window, GTK_TYPE_SEARCH_ENTRY) != NULL;
}

/* In an entry, undo is for what was typed, until nothing of it is left. */
static void
test_undo_typing (Fixture *f, gconstpointer data)
{
  GtkWidget *search;
  int at = 0;

  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  ui_wait (has_search, f->window);
  search = ui_find (GTK_WIDGET (f->window), GTK_TYPE_SEARCH_ENTRY);
  gtk_widget_grab_focus (search);
  gtk_editable_insert_text (GTK_EDITABLE (search), "gate", -1, &at);
  activate (f->window, "win.undo");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (search)), ==, "");
  ui_settle ();
  g_assert_false (is_enabled (f->window, "redo"));
  activate (f->window, "win.undo");
  ui_wait (can_redo, f->window);
}

static gboolean
has_toast (gpointer window)
{
  return ui_find_label (window, "Visit recorded at A & B") != NULL;
}

/* Names may hold what markup would trip over. */
static void
test_toast (Fixture *f, gconstpointer data)
{
  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (f->window->field), "win.toast", "s", "Visit recorded at A & B"));
  ui_wait (has_toast, f->window);
  g_assert_nonnull (ui_find_label (GTK_WIDGET (f->window), "Undo"));
}

static gboolean
says_last (gpointer window)
{
  return ui_find_label (window, "Message 11") != NULL;
}

/* Undo after undo, as fast as keys repeat: while toasts come up, stand and go. */
static void
test_toast_flood (Fixture *f, gconstpointer data)
{
  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  for (int i = 0; i < 12; i++)
    {
      g_autofree char *text = g_strdup_printf ("Message %d", i);

      tpt_window_say (f->window, text, i % 3 == 2 ? NULL : "Undo", "win.undo");
      for (int wait = 0; wait < i % 5; wait++)
        ui_settle ();
    }
  ui_wait (says_last, f->window);
}

static void
test_complain (Fixture *f, gconstpointer data)
{
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (f->window->field), "win.complain", "s", "The disk is full"));
  g_assert_true (gtk_info_bar_get_revealed (f->window->trouble));
  g_assert_cmpstr (gtk_label_get_label (f->window->trouble_text), ==, "The disk is full");
}

static void
test_pages (Fixture *f, gconstpointer data)
{
  static const char *const pages[] = { "sorting", "findings", "shelf", "field" };

  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_autofree char *kept = NULL;

      gtk_widget_activate_action (GTK_WIDGET (f->window), "win.page", "s", pages[i]);
      g_assert_cmpstr (adw_view_stack_get_visible_child_name (f->window->pages), ==, pages[i]);
      kept = tpt_settings_get_text ("last-page");
      g_assert_cmpstr (kept, ==, pages[i]);
    }
}

static void
test_show_station (Fixture *f, gconstpointer data)
{
  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  gtk_widget_activate_action (GTK_WIDGET (f->window), "win.page", "s", "findings");
  gtk_widget_activate_action (GTK_WIDGET (f->window), "win.show-station", "s", "BIRCH");
  g_assert_cmpstr (adw_view_stack_get_visible_child_name (f->window->pages), ==, "field");
  g_assert_cmpstr (tpt_field_page_get_chosen (f->window->field), ==, "BIRCH");
}

/* What stands behind a finding shows in Sorting, with the way back. */
static void
test_show_pictures (Fixture *f, gconstpointer data)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_new ();
  GtkWidget *back, *from;

  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  ui_settle ();
  query->stations = g_strdupv ((char *[]) { (char *) "BIRCH", NULL });
  gtk_widget_activate_action (GTK_WIDGET (f->window), "win.page", "s", "findings");
  g_assert_true (gtk_widget_grab_focus (GTK_WIDGET (f->window->menu_button)));
  from = gtk_window_get_focus (GTK_WINDOW (f->window));
  g_assert_true (gtk_widget_activate_action_variant (GTK_WIDGET (f->window), "win.show-pictures",
                                                     tpt_frame_query_to_variant (query)));
  g_assert_cmpstr (adw_view_stack_get_visible_child_name (f->window->pages), ==, "sorting");
  ui_settle ();
  back = ui_find_label (GTK_WIDGET (f->window->sorting), "Back to findings");
  g_assert_nonnull (back);
  back = gtk_widget_get_ancestor (back, GTK_TYPE_BUTTON);
  g_signal_emit_by_name (back, "clicked");
  g_assert_cmpstr (adw_view_stack_get_visible_child_name (f->window->pages), ==, "findings");
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (f->window)) == from);
}

static void
test_color_scheme (Fixture *f, gconstpointer data)
{
  static const struct {
    const char *scheme;
    AdwColorScheme applied;
  } cases[] = {
    { "dark", ADW_COLOR_SCHEME_FORCE_DARK }, { "light", ADW_COLOR_SCHEME_FORCE_LIGHT }, { "follow", ADW_COLOR_SCHEME_DEFAULT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gtk_widget_activate_action (GTK_WIDGET (f->window), "win.color-scheme", "s", cases[i].scheme);
      g_assert_cmpint (adw_style_manager_get_color_scheme (adw_style_manager_get_default ()), ==, cases[i].applied);
    }
}

/* (transfer none) (nullable) */
static GtkWindow *
find_toplevel (GType type)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (toplevels, i);

      if (G_TYPE_CHECK_INSTANCE_TYPE (window, type))
        return window;
    }
  return NULL;
}

static gboolean
checked (gpointer dialog)
{
  return ui_find_label (dialog, "Nothing is wrong") != NULL;
}

static void
test_check (Fixture *f, gconstpointer data)
{
  GtkWindow *dialog;

  tpt_window_open (f->window, f->path);
  wait_page (f->window, "project");
  activate (f->window, "win.check");
  dialog = find_toplevel (TPT_TYPE_CHECK_DIALOG);
  g_assert_nonnull (dialog);
  g_signal_emit_by_name (gtk_widget_get_parent (ui_find_label (GTK_WIDGET (dialog), "Check")), "clicked");
  ui_wait (checked, dialog);
  gtk_window_destroy (dialog);
}

/* Every other window of this folder can be opened and closed. */
static void
test_dialogs (Fixture *f, gconstpointer data)
{
  static const char *const actions[] = { "win.cautions", "win.shortcuts", "win.about", "win.demo" };
  const GType types[] = { TPT_TYPE_CAUTIONS_DIALOG, GTK_TYPE_SHORTCUTS_WINDOW, ADW_TYPE_ABOUT_WINDOW, TPT_TYPE_DEMO_DIALOG };

  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      GtkWindow *dialog;

      activate (f->window, actions[i]);
      dialog = find_toplevel (types[i]);
      g_assert_nonnull (dialog);
      ui_settle ();
      gtk_window_destroy (dialog);
    }
}

/* Closing the dialog stops the writing, which leaves nothing behind. */
static void
test_demo_cancelled (Fixture *f, gconstpointer data)
{
  g_autofree char *folder = g_build_filename (f->folder, "demo", NULL);
  TptDemoDialog *dialog = tpt_demo_dialog_new (GTK_WINDOW (f->window));
  gpointer watch = dialog;

  g_object_add_weak_pointer (G_OBJECT (dialog), &watch);
  gtk_window_present (GTK_WINDOW (dialog));
  tpt_demo_dialog_write (dialog, folder);
  ui_settle ();
  gtk_window_close (GTK_WINDOW (dialog));
  while (watch != NULL)
    g_main_context_iteration (NULL, TRUE);
  g_assert_false (g_file_test (folder, G_FILE_TEST_EXISTS));
}

static void
test_recent (void)
{
  g_auto (GStrv) paths = NULL;

  for (int i = 0; i < 12; i++)
    {
      g_autofree char *path = g_strdup_printf ("/somewhere/%d.gpkg", i);

      tpt_settings_add_recent (path);
    }
  tpt_settings_add_recent ("/somewhere/5.gpkg");
  paths = tpt_settings_get_list ("recent-projects");
  g_assert_cmpuint (g_strv_length (paths), ==, 10);
  g_assert_cmpstr (paths[0], ==, "/somewhere/5.gpkg");
  g_assert_cmpstr (paths[1], ==, "/somewhere/11.gpkg");
  g_assert_cmpstr (paths[9], ==, "/somewhere/2.gpkg");
}

/* Whatever was open in the menu, keys reach the window afterwards. */
static void
test_menu_closed (Fixture *f, gconstpointer data)
{
  static const char *const submenus[] = { "main", "A_ppearance" };
  GtkPopover *popover = gtk_menu_button_get_popover (f->window->menu_button);

  for (guint i = 0; i < G_N_ELEMENTS (submenus); i++)
    {
      GtkWidget *focus;

      gtk_menu_button_popup (f->window->menu_button);
      ui_settle ();
      g_object_set (popover, "visible-submenu", submenus[i], NULL);
      ui_settle ();
      gtk_widget_child_focus (GTK_WIDGET (popover), GTK_DIR_TAB_FORWARD);
      gtk_popover_popdown (popover);
      ui_settle ();
      focus = gtk_window_get_focus (GTK_WINDOW (f->window));
      g_assert_nonnull (focus);
      g_assert_true (gtk_widget_get_mapped (focus));
      g_assert_false (gtk_widget_is_ancestor (focus, GTK_WIDGET (popover)));
    }
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

static gboolean
shows_cedar (gpointer window)
{
  TptFieldPage *field = TPT_WINDOW (window)->field;

  return g_strcmp0 (tpt_field_page_get_chosen (field), "CEDAR") == 0 && ui_find_label (GTK_WIDGET (field), "No rig stands here. Press “Set out” when you put one up.") != NULL;
}

/* Its row is on the list's screen, not only in the list. */
static gboolean
sees_cedar (gpointer window)
{
  GtkWidget *list = ui_find (GTK_WIDGET (TPT_WINDOW (window)->field), TPT_TYPE_DUE_LIST);
  GtkWidget *row = ui_find_label (ui_find (list, GTK_TYPE_LIST_VIEW), "Cedar hollow");
  GtkWidget *screen = ui_find (list, GTK_TYPE_SCROLLED_WINDOW);
  double y;

  return row != NULL && gtk_widget_translate_coordinates (row, screen, 0, 0, NULL, &y) && y >= 0 && y < gtk_widget_get_height (screen);
}

/* A station that was just added is chosen and in view, though by what is due it
 * comes last of many. */
static void
test_new_station (Fixture *f, gconstpointer data)
{
  g_autoptr (TptProject) project = tpt_project_open (f->path, NULL);
  g_autoptr (TptJobEdit) job = tpt_job_edit_new ("Add many");
  TptRecordDialog *dialog;
  TptRecordForm *form;
  GError *error = NULL;

  for (guint i = 0; i < 60; i++)
    {
      g_autofree char *code = g_strdup_printf ("B%02u", i);
      const char *const cells[] = { "station", code, NULL };
      g_autoptr (TptRecord) record = ui_make_record (TPT_TABLE_STATIONS, cells, NULL);

      tpt_job_edit_save (job, record);
    }
  tpt_project_run (project, TPT_JOB (job), NULL, &error);
  g_assert_no_error (error);

  tpt_window_set_project (f->window, project);
  wait_page (f->window, "project");
  dialog = tpt_record_dialog_new (GTK_WINDOW (f->window), project, TPT_TABLE_STATIONS, NULL);
  gtk_window_present (GTK_WINDOW (dialog));
  form = TPT_RECORD_FORM (ui_find (GTK_WIDGET (dialog), TPT_TYPE_RECORD_FORM));
  tpt_field_set_text (tpt_record_form_get_field (form, "station"), "CEDAR");
  tpt_field_set_text (tpt_record_form_get_field (form, "name"), "Cedar hollow");
  TPT_FORM_DIALOG_GET_CLASS (dialog)->save (TPT_FORM_DIALOG (dialog));
  ui_wait (shows_cedar, f->window);
  ui_wait (sees_cedar, f->window);
  tpt_window_set_project (f->window, NULL);
}

int
main (int argc, char *argv[])
{
  /* with-display.sh isolates the user's folders; without the system's the
   * toolkit finds no loader for its icons. */
  g_test_init (&argc, &argv, NULL);
  adw_init ();

  add ("/window/welcome", test_welcome);
  add ("/window/new-station", test_new_station);
  add ("/window/open", test_open);
  add ("/window/open-cancelled", test_open_cancelled);
  add ("/window/open-twice", test_open_twice);
  add ("/window/open-faults", test_open_faults);
  add ("/window/open-keeps", test_open_keeps);
  add ("/window/undo", test_undo);
  add ("/window/undo-typing", test_undo_typing);
  add ("/window/toast", test_toast);
  add ("/window/toast-flood", test_toast_flood);
  add ("/window/complain", test_complain);
  add ("/window/pages", test_pages);
  add ("/window/show-station", test_show_station);
  add ("/window/show-pictures", test_show_pictures);
  add ("/window/color-scheme", test_color_scheme);
  add ("/window/menu-closed", test_menu_closed);
  add ("/window/check", test_check);
  add ("/window/dialogs", test_dialogs);
  add ("/window/demo-cancelled", test_demo_cancelled);
  g_test_add_func ("/window/recent", test_recent);
  return g_test_run ();
}
