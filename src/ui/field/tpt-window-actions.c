#include "config.h"

#include <glib/gi18n-lib.h>

#include "tpt-cards-dialog.h"
#include "tpt-cautions-dialog.h"
#include "tpt-check-dialog.h"
#include "tpt-clock-dialog.h"
#include "tpt-demo-dialog.h"
#include "tpt-figure-dialog.h"
#include "tpt-import-dialog.h"
#include "tpt-job-undo.h"
#include "tpt-new-project-dialog.h"
#include "tpt-record-dialog.h"
#include "tpt-settings.h"
#include "tpt-sheet-dialog.h"
#include "tpt-species-dialog.h"
#include "tpt-window-private.h"

/* A toast that has just come up can still say something else; an older one is
 * about to go. */
#define FRESH_US (2 * G_USEC_PER_SEC)

static void
dismissed_cb (TptWindow *self, AdwToast *toast)
{
  if (self->toast == toast)
    g_clear_object (&self->toast);
}

static void
fill_toast (AdwToast *toast, const char *message, const char *button, const char *action)
{
  g_autofree char *escaped = g_markup_escape_text (message, -1);

  adw_toast_set_title (toast, escaped);
  adw_toast_set_button_label (toast, button);
  adw_toast_set_action_name (toast, action);
}

/* Toasts are never dismissed from here: libadwaita 1.2 trips over one that is
 * dismissed while it comes up or goes. */
void
tpt_window_say (TptWindow *self, const char *message, const char *button, const char *action)
{
  gint64 now = g_get_monotonic_time ();

  if (self->toast != NULL && now - self->toast_at < FRESH_US)
    {
      fill_toast (self->toast, message, button, action);
      return;
    }
  if (self->toast != NULL) /* what it offers is no longer what would happen */
    adw_toast_set_button_label (self->toast, NULL);
  g_clear_object (&self->toast);
  self->toast = g_object_ref (adw_toast_new (""));
  self->toast_at = now;
  fill_toast (self->toast, message, button, action);
  g_signal_connect_object (self->toast, "dismissed", G_CALLBACK (dismissed_cb), self, G_CONNECT_SWAPPED);
  adw_toast_overlay_add_toast (self->toasts, self->toast);
}

void
tpt_window_complain (TptWindow *self, const char *message)
{
  gtk_label_set_label (self->trouble_text, message);
  gtk_info_bar_set_revealed (self->trouble, TRUE);
}

static void
toast_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  tpt_window_say (data, g_variant_get_string (message, NULL), _("Undo"), "win.undo");
}

static void
say_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  tpt_window_say (data, g_variant_get_string (message, NULL), NULL, NULL);
}

static void
complain_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  tpt_window_complain (data, g_variant_get_string (message, NULL));
}

/* What the bar said is settled; what else it may say since stays. */
static void
calm_cb (GSimpleAction *action, GVariant *message, gpointer data)
{
  TptWindow *self = data;

  if (g_str_equal (gtk_label_get_label (self->trouble_text), g_variant_get_string (message, NULL)))
    gtk_info_bar_set_revealed (self->trouble, FALSE);
}

static void
undone_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptWindow) self = data;
  TptJobUndo *job = TPT_JOB_UNDO (tpt_project_get_job (result));
  gboolean redo = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (job), "redo"));
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (self->project == TPT_PROJECT (source))
        tpt_window_complain (self, error->message);
      return;
    }
  if (self->project != TPT_PROJECT (source))
    return;
  text = g_strdup_printf (redo ? _("Done again: %s") : _("Undone: %s"), tpt_job_undo_get_what (job));
  tpt_window_say (self, text, redo ? _("Undo") : _("Redo"), redo ? "win.undo" : "win.redo");
}

static void
run_undo (TptWindow *self, gboolean redo)
{
  g_autoptr (TptJobUndo) job = tpt_job_undo_new (redo);

  g_object_set_data (G_OBJECT (job), "redo", GINT_TO_POINTER (redo));
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, undone_cb, g_object_ref (self));
}

/* Somebody who types takes back what was typed first. Whether there was such a
 * thing shows only in the text. */
static gboolean
step_text (TptWindow *self, const char *action)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  g_autofree char *before = NULL;

  if (focus == NULL || !GTK_IS_TEXT (focus))
    return FALSE;
  before = g_strdup (gtk_editable_get_text (GTK_EDITABLE (focus)));
  gtk_widget_activate_action (focus, action, NULL);
  return !g_str_equal (before, gtk_editable_get_text (GTK_EDITABLE (focus)));
}

static void
undo_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  if (!step_text (data, "text.undo"))
    run_undo (data, FALSE);
}

static void
redo_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  if (!step_text (data, "text.redo"))
    run_undo (data, TRUE);
}

static void
show_station_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  TptWindow *self = data;

  adw_view_stack_set_visible_child_name (self->pages, "field");
  tpt_field_page_choose (self->field, g_variant_get_string (code, NULL));
}

static void
show_unit_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  TptWindow *self = data;

  tpt_shelf_page_choose (self->shelf, g_variant_get_string (code, NULL));
  adw_view_stack_set_visible_child_name (self->pages, "shelf");
}

static void
show_batch_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  TptWindow *self = data;

  adw_view_stack_set_visible_child_name (self->pages, "sorting");
  tpt_sorting_page_show_batch (self->sorting, g_variant_get_string (code, NULL));
}

/* A menu goes once it has led away: it is what it belongs to that has the keyboard again. */
static void
remember_focus (TptWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));
  GtkWidget *popover = focus != NULL ? gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) : NULL;

  g_set_weak_pointer (&self->led_from, popover != NULL ? gtk_widget_get_parent (popover) : focus);
}

/* What was being named is left for the list that is asked for. */
static void
show_pictures_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TptWindow *self = data;
  g_autoptr (TptFrameQuery) query = tpt_frame_query_from_variant (parameter);

  remember_focus (self);
  tpt_sorting_page_show_query (self->sorting, query);
  adw_view_stack_set_visible_child_name (self->pages, "sorting");
}

static void
show_shelf_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  adw_view_stack_set_visible_child_name (TPT_WINDOW (data)->pages, "shelf");
}

static void
created_cb (TptProject *project, gpointer data)
{
  TptWindow *self = data;

  tpt_project_watch (project);
  tpt_window_set_project (self, project);
}

static void
new_project_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_new_project_dialog_present (data, created_cb, data);
}

static void
open_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_window_choose_file (data);
}

static void
open_path_cb (GSimpleAction *action, GVariant *path, gpointer data)
{
  tpt_window_open (data, g_variant_get_string (path, NULL));
}

static void
try_again_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TptWindow *self = data;

  if (self->opening_path != NULL)
    tpt_window_open (self, self->opening_path);
}

/* Leaves the opening, or what is said of its failure, for what was before. */
static void
back_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TptWindow *self = data;

  if (self->opening != NULL)
    g_cancellable_cancel (self->opening);
  g_clear_object (&self->opening);
  gtk_stack_set_visible_child_name (self->stack, self->project != NULL ? "project" : "welcome");
}

static void
demo_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TptDemoDialog *dialog = tpt_demo_dialog_new (data);

  g_signal_connect_object (dialog, "written", G_CALLBACK (tpt_window_open), data, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
import_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_import_dialog_present (data, TPT_WINDOW (data)->project);
}

static void
intake_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TptWindow *self = data;

  tpt_cards_dialog_present (data, self->project, tpt_field_page_get_chosen (self->field), NULL);
}

static void
batch_clock_cb (GSimpleAction *action, GVariant *code, gpointer data)
{
  tpt_clock_dialog_present (data, TPT_WINDOW (data)->project, g_variant_get_string (code, NULL));
}

static void
visit_sheet_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TptWindow *self = data;

  tpt_sheet_dialog_present (data, self->project, tpt_field_page_get_chosen (self->field));
}

static void
new_station_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_record_dialog_present (data, TPT_WINDOW (data)->project, TPT_TABLE_STATIONS, NULL, NULL);
}

static void
new_unit_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_record_dialog_present (data, TPT_WINDOW (data)->project, TPT_TABLE_UNITS, NULL, NULL);
}

static void
species_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_species_dialog_present (data, TPT_WINDOW (data)->project);
}

static void
lives_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr (TptFilter) none = tpt_filter_new ();

  tpt_figure_dialog_present (data, TPT_WINDOW (data)->project, "lives", none);
}

static void
due_figure_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr (TptFilter) all = tpt_filter_new ();

  tpt_figure_dialog_present (data, TPT_WINDOW (data)->project, "due", all);
}

static void
check_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_check_dialog_present (data, TPT_WINDOW (data)->project);
}

static void
apply_color_scheme (const char *scheme)
{
  AdwColorScheme chosen = g_str_equal (scheme, "light")  ? ADW_COLOR_SCHEME_FORCE_LIGHT
                          : g_str_equal (scheme, "dark") ? ADW_COLOR_SCHEME_FORCE_DARK
                                                         : ADW_COLOR_SCHEME_DEFAULT;

  adw_style_manager_set_color_scheme (adw_style_manager_get_default (), chosen);
}

static void
color_scheme_cb (GSimpleAction *action, GVariant *scheme, gpointer data)
{
  tpt_settings_set_text ("color-scheme", g_variant_get_string (scheme, NULL));
  apply_color_scheme (g_variant_get_string (scheme, NULL));
  g_simple_action_set_state (action, scheme);
}

static void
shortcuts_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/io/github/tapetum/Tapetum/field/tpt-shortcuts.ui");
  GtkWindow *shortcuts = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));

  gtk_window_set_transient_for (shortcuts, data);
  gtk_window_present (shortcuts);
}

static void
cautions_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  tpt_cautions_dialog_present (data);
}

static void
about_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  adw_show_about_window (data,
                         "application-name", _("Tapetum"),
                         "application-icon", APPLICATION_ID,
                         "version", PACKAGE_VERSION,
                         "comments", _("Station management and maps of results for unattended wildlife cameras"),
                         "license-type", GTK_LICENSE_GPL_3_0,
                         NULL);
}

static const GActionEntry entries[] = {
  { "toast", toast_cb, "s" },
  { "say", say_cb, "s" },
  { "complain", complain_cb, "s" },
  { "calm", calm_cb, "s" },
  { "undo", undo_cb },
  { "redo", redo_cb },
  { "show-station", show_station_cb, "s" },
  { "show-unit", show_unit_cb, "s" },
  { "show-batch", show_batch_cb, "s" },
  { "show-pictures", show_pictures_cb, "a{sv}" },
  { "show-shelf", show_shelf_cb },
  { "new-project", new_project_cb },
  { "open", open_cb },
  { "open-path", open_path_cb, "s" },
  { "try-again", try_again_cb },
  { "back", back_cb },
  { "demo", demo_cb },
  { "import", import_cb },
  { "intake", intake_cb },
  { "batch-clock", batch_clock_cb, "s" },
  { "visit-sheet", visit_sheet_cb },
  { "new-station", new_station_cb },
  { "new-unit", new_unit_cb },
  { "species", species_cb },
  { "lives", lives_cb },
  { "due-figure", due_figure_cb },
  { "check", check_cb },
  { "color-scheme", NULL, "s", "'follow'", color_scheme_cb },
  { "shortcuts", shortcuts_cb },
  { "cautions", cautions_cb },
  { "about", about_cb },
};

void
tpt_window_add_actions (TptWindow *self)
{
  g_autofree char *scheme = tpt_settings_get_text ("color-scheme");
  g_autoptr (GPropertyAction) page = g_property_action_new ("page", self, "page");

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (page));
  g_action_group_change_action_state (G_ACTION_GROUP (self), "color-scheme", g_variant_new_string (scheme));
  tpt_window_update_actions (self);
}

static void
enable (TptWindow *self, const char *name, gboolean enabled)
{
  GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), name);

  g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
}

static void
name_step (GtkWidget *button, const char *step, const char *what)
{
  /* Translators: "Undo" or "Redo", and what would be. */
  g_autofree char *text = what != NULL ? g_strdup_printf (_("%1$s: %2$s"), step, what) : g_strdup (step);

  gtk_widget_set_tooltip_text (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

void
tpt_window_update_actions (TptWindow *self)
{
  static const char *const writers[] = { "import", "intake", "batch-clock", "new-station", "new-unit" };
  gboolean open = self->project != NULL;
  gboolean writable = open && !tpt_project_get_read_only (self->project);
  const char *undo = open ? tpt_project_get_undo_label (self->project) : NULL;
  const char *redo = open ? tpt_project_get_redo_label (self->project) : NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (writers); i++)
    enable (self, writers[i], writable);
  enable (self, "species", open);
  enable (self, "lives", open);
  enable (self, "due-figure", open);
  enable (self, "check", open);
  enable (self, "visit-sheet", open);
  enable (self, "show-batch", open);
  enable (self, "show-pictures", open);
  enable (self, "show-shelf", open);
  enable (self, "undo", writable && undo != NULL);
  enable (self, "redo", writable && redo != NULL);
  name_step (self->undo, _("Undo"), undo);
  name_step (self->redo, _("Redo"), redo);
}
