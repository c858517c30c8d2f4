/* The graphical program, and the way into the terminal commands. */
#include "config.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <locale.h>

#include "batch.h"
#include "tpt-window.h"

static void
install_accels (GtkApplication *app)
{
  static const struct {
    const char *action;
    const char *accels[3];
  } keys[] = {
    { "win.new-project", { "<Control>n" } },
    { "win.open", { "<Control>o" } },
    { "win.intake", { "<Control>t" } },
    { "win.undo", { "<Control>z" } },
    { "win.redo", { "<Control><Shift>z" } },
    { "win.page::field", { "<Control>1" } },
    { "win.page::sorting", { "<Control>2" } },
    { "win.page::findings", { "<Control>3" } },
    { "win.page::shelf", { "<Control>4" } },
    { "win.shortcuts", { "F1", "<Control>question" } },
    { "window.close", { "<Control>w" } },
    { "app.quit", { "<Control>q" } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_application_set_accels_for_action (app, keys[i].action, (const char *const *) keys[i].accels);
}

static void
quit_cb (GSimpleAction *action, GVariant *parameter, gpointer app)
{
  GList *windows = g_list_copy (gtk_application_get_windows (app));

  for (GList *at = windows; at != NULL; at = at->next)
    if (TPT_IS_WINDOW (at->data))
      gtk_window_close (at->data);
  g_list_free (windows);
}

static void
startup_cb (GApplication *app)
{
  static const GActionEntry entries[] = { { "quit", quit_cb } };

  g_action_map_add_action_entries (G_ACTION_MAP (app), entries, G_N_ELEMENTS (entries), app);
  install_accels (GTK_APPLICATION (app));
  gtk_window_set_default_icon_name (APPLICATION_ID);
}

static void
activate_cb (GApplication *app)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (app));

  gtk_window_present (window != NULL ? window : GTK_WINDOW (tpt_window_new (ADW_APPLICATION (app))));
}

/* (transfer none) (nullable): a window that shows no project yet. */
static TptWindow *
find_free_window (GApplication *app)
{
  for (GList *at = gtk_application_get_windows (GTK_APPLICATION (app)); at != NULL; at = at->next)
    if (TPT_IS_WINDOW (at->data) && !tpt_window_is_taken (at->data))
      return at->data;
  return NULL;
}

static void
open_cb (GApplication *app, GFile **files, int n_files, const char *hint)
{
  for (int i = 0; i < n_files; i++)
    {
      const char *path = g_file_peek_path (files[i]);
      TptWindow *window = find_free_window (app);

      if (window == NULL)
        window = tpt_window_new (ADW_APPLICATION (app));
      gtk_window_present (GTK_WINDOW (window));
      if (path != NULL)
        tpt_window_open (window, path);
    }
}

static int
run_window (int argc, char *argv[])
{
  g_autoptr (AdwApplication) app = adw_application_new (APPLICATION_ID, G_APPLICATION_HANDLES_OPEN);

  g_set_application_name (_("Tapetum"));
  g_signal_connect (app, "startup", G_CALLBACK (startup_cb), NULL);
  g_signal_connect (app, "activate", G_CALLBACK (activate_cb), NULL);
  g_signal_connect (app, "open", G_CALLBACK (open_cb), NULL);
  return g_application_run (G_APPLICATION (app), argc, argv);
}

int
main (int argc, char *argv[])
{
  gboolean handled = FALSE;
  int status;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  status = tpt_batch_main (argc, argv, &handled);
  return handled ? status : run_window (argc, argv);
}
