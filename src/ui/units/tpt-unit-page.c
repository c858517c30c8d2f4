#include "config.h"

#include "tpt-unit-page.h"

#include <glib/gi18n-lib.h>

#include "tpt-figure-pane.h"
#include "tpt-job-edit.h"
#include "tpt-job-station.h"
#include "tpt-job-unit.h"
#include "tpt-list-focus.h"
#include "tpt-log-line.h"
#include "tpt-record-dialog.h"
#include "tpt-unit-words.h"

struct _TptUnitPage {
  GtkWidget parent_instance;

  TptProject *project;       /* (owned) (nullable) */
  char *unit;                /* (owned) (nullable): its code */
  char *last_unit;           /* (owned) (nullable): of the unit shown last */
  TptJobUnit *job;           /* (owned) (nullable): what is shown */
  GCancellable *cancellable; /* (owned) (nullable): of the run under way */

  GtkStack *stack;
  GtkScrolledWindow *scroller;
  GtkLabel *title;
  GtkLabel *make;
  GtkLabel *cells;
  GtkLabel *place;
  GtkWidget *station;
  GtkLabel *state;
  GtkLabel *notes;
  GtkWidget *edit;
  GtkWidget *add;
  TptFigurePane *chart;
  GtkLabel *why_not;
  GtkListBox *log;
  GtkWidget *no_log;
  GtkWidget *caution;
  GtkLabel *fault;
};

G_DEFINE_FINAL_TYPE (TptUnitPage, tpt_unit_page, GTK_TYPE_WIDGET)

static GtkWindow *
find_window (TptUnitPage *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

static TptUnitItem *
get_item (TptUnitPage *self)
{
  return tpt_job_unit_get_item (self->job);
}

static void
edit_cb (TptUnitPage *self)
{
  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_UNITS, tpt_unit_item_get_record (get_item (self)), NULL);
}

/* A new entry is about this unit and today, until somebody says otherwise. */
static void
add_cb (TptUnitPage *self)
{
  g_autoptr (TptRecord) entry = tpt_record_new (TPT_TABLE_UNIT_LOG);

  tpt_record_set_text (entry, "unit", self->unit);
  tpt_record_set_instant (entry, "at", tpt_project_get_now (self->project, NULL) / TPT_MINUTE * TPT_MINUTE);
  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_UNIT_LOG, entry, NULL);
}

static void
station_cb (TptUnitPage *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-station", "s", tpt_unit_item_get_station (get_item (self)));
}

static void
entry_edit_cb (TptUnitPage *self, TptRecord *entry)
{
  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_UNIT_LOG, entry, NULL);
}

static void
removed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptUnitPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (self->project != TPT_PROJECT (source))
    return;
  if (good)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.toast", "s", _("Log entry removed"));
  else
    gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
}

static void
entry_remove_cb (TptUnitPage *self, TptRecord *entry)
{
  g_autofree char *what = g_strdup_printf (_("Remove an entry from the log of %s"), tpt_record_get_text (entry, "unit"));
  g_autoptr (TptJobEdit) job = tpt_job_edit_new (what);

  tpt_job_edit_remove (job, entry);
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, removed_cb, g_object_ref (self));
}

static void
set_line (GtkLabel *label, char *text /* (transfer full) (nullable) */)
{
  gtk_label_set_label (label, text != NULL ? text : "");
  gtk_widget_set_visible (GTK_WIDGET (label), text != NULL);
  g_free (text);
}

static void
show_head (TptUnitPage *self)
{
  TptUnitItem *item = get_item (self);
  TptRecord *record = tpt_unit_item_get_record (item);
  TptZone *zone = tpt_project_get_zone (self->project);
  TptInstant now = tpt_project_get_now (self->project, NULL);
  gboolean writable = !tpt_project_get_read_only (self->project);

  gtk_label_set_label (self->title, tpt_unit_item_get_title (item));
  set_line (self->make, tpt_unit_words_make (record));
  set_line (self->cells, tpt_unit_words_cells (record));
  set_line (self->place, tpt_unit_item_word_place (item, zone, now));
  set_line (self->state, tpt_unit_item_word_state (item, zone, now));
  set_line (self->notes, g_strdup (tpt_record_get_text (record, "notes")));
  gtk_widget_set_visible (self->station, tpt_unit_item_get_station (item) != NULL);
  gtk_widget_set_visible (self->caution, g_strcmp0 (tpt_record_get_text (record, "kind"), "flash") == 0);
  gtk_widget_set_sensitive (self->edit, writable);
  gtk_widget_set_sensitive (self->add, writable);
}

static void
show_chart (TptUnitPage *self)
{
  TptFigure *battery = tpt_job_unit_get_battery (self->job);

  tpt_figure_pane_set_figure (self->chart, battery);
  gtk_widget_set_visible (GTK_WIDGET (self->chart), battery != NULL);
  set_line (self->why_not, g_strdup (tpt_job_unit_get_why_not (self->job)));
}

static void
show_log (TptUnitPage *self)
{
  GListModel *log = tpt_job_unit_get_log (self->job);
  TptZone *zone = tpt_project_get_zone (self->project);
  TptInstant now = tpt_project_get_now (self->project, NULL);
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (self->log))) != NULL)
    gtk_list_box_remove (self->log, row);
  for (guint i = 0; i < g_list_model_get_n_items (log); i++)
    {
      g_autoptr (TptLogItem) item = g_list_model_get_item (log, i);

      row = tpt_log_line_new (item, zone, now, !tpt_project_get_read_only (self->project));
      g_signal_connect_object (row, "edit-asked", G_CALLBACK (entry_edit_cb), self, G_CONNECT_SWAPPED);
      g_signal_connect_object (row, "remove-asked", G_CALLBACK (entry_remove_cb), self, G_CONNECT_SWAPPED);
      gtk_list_box_append (self->log, row);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->log), g_list_model_get_n_items (log) > 0);
  gtk_widget_set_visible (self->no_log, g_list_model_get_n_items (log) == 0);
}

/* Another unit begins at the top; the same one stays where it was read. */
static void
settle_scroll (TptUnitPage *self)
{
  if (g_strcmp0 (self->last_unit, self->unit) == 0)
    return;
  g_free (self->last_unit);
  self->last_unit = g_strdup (self->unit);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->scroller), 0);
}

static void
ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptUnitPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != self->cancellable || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (!good)
    {
      gtk_label_set_label (self->fault, error->message);
      gtk_stack_set_visible_child_name (self->stack, "fault");
      return;
    }
  g_set_object (&self->job, TPT_JOB_UNIT (tpt_project_get_job (result)));
  show_head (self);
  show_chart (self);
  show_log (self);
  settle_scroll (self);
  gtk_stack_set_visible_child_name (self->stack, "unit");
}

static void
stop (TptUnitPage *self)
{
  if (self->cancellable != NULL)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
tpt_unit_page_dispose (GObject *object)
{
  TptUnitPage *self = TPT_UNIT_PAGE (object);

  stop (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_UNIT_PAGE);
  g_clear_object (&self->project);
  g_clear_object (&self->job);
  g_clear_pointer (&self->unit, g_free);
  g_clear_pointer (&self->last_unit, g_free);

  G_OBJECT_CLASS (tpt_unit_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, stack);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, title);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, make);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, cells);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, place);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, station);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, state);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, notes);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, edit);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, add);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, chart);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, why_not);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, log);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, no_log);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, caution);
  gtk_widget_class_bind_template_child (widget_class, TptUnitPage, fault);
}

static void
tpt_unit_page_class_init (TptUnitPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_unit_page_dispose;

  g_type_ensure (TPT_TYPE_FIGURE_PANE);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-unit-page.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, edit_cb);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, station_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_unit_page_init (TptUnitPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  tpt_figure_pane_set_askable (self->chart, FALSE);
  tpt_list_focus_install (GTK_WIDGET (self->log));
}

void
tpt_unit_page_set_project (TptUnitPage *self, TptProject *project)
{
  tpt_unit_page_show (self, NULL);
  g_set_object (&self->project, project);
}

void
tpt_unit_page_show (TptUnitPage *self, const char *unit)
{
  g_autoptr (TptJobUnit) job = NULL;
  char *code = g_strdup (unit);

  stop (self);
  g_free (self->unit);
  self->unit = code;
  if (unit == NULL || self->project == NULL)
    {
      g_clear_object (&self->job);
      gtk_stack_set_visible_child_name (self->stack, "none");
      return;
    }
  job = tpt_job_unit_new (self->unit, TPT_NO_INSTANT);
  self->cancellable = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->cancellable, ran_cb, g_object_ref (self));
}
