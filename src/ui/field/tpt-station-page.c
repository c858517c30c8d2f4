#include "config.h"

#include "tpt-station-page.h"

#include <glib/gi18n-lib.h>

#include "tpt-blank-line.h"
#include "tpt-bring-in-dialog.h"
#include "tpt-dated-row.h"
#include "tpt-field-words.h"
#include "tpt-record-dialog.h"
#include "tpt-rig-row.h"
#include "tpt-set-out-dialog.h"
#include "tpt-symbol-view.h"
#include "tpt-visit-dialog.h"
#include "tpt-words.h"

/* Long lists begin with so many rows. */
#define FEW_VISITS 4
#define FEW_LOG_LINES 8

struct _TptStationPage {
  GtkWidget parent_instance;

  TptProject *project;     /* (owned) (nullable) */
  TptStationItem *item;    /* (owned) (nullable) */
  TptJobStation *job;      /* (owned) (nullable) */
  TptInstant on;
  gboolean position_shown; /* for this session */
  char *last_code;         /* (owned) (nullable): of the station shown last */

  GtkStack *stack;
  GtkScrolledWindow *scroller;
  TptSymbolView *symbol;
  GtkLabel *title;
  GtkLabel *feature;
  GtkLabel *position;
  GtkToggleButton *reveal;
  TptBlankLine *blanks;
  GtkWidget *visit;
  GtkWidget *set_out;
  GtkWidget *bring_in;
  GtkWidget *edit;
  GtkLabel *rig_title;
  GtkListBox *rig;
  GtkWidget *no_rig;
  GtkListBox *visits;
  GtkWidget *no_visits;
  GtkWidget *all_visits;
  GtkListBox *log;
  GtkWidget *log_title;
  GtkWidget *all_log;
  GtkWidget *caution;
};

G_DEFINE_FINAL_TYPE (TptStationPage, tpt_station_page, GTK_TYPE_WIDGET)

static GtkWindow *
find_window (TptStationPage *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

static const char *
find_code (TptStationPage *self)
{
  return tpt_station_item_get_code (self->item);
}

static void
visit_cb (TptStationPage *self)
{
  tpt_visit_dialog_present (find_window (self), self->project, find_code (self));
}

static void
set_out_cb (TptStationPage *self)
{
  tpt_set_out_dialog_present (find_window (self), self->project, find_code (self));
}

static void
bring_in_cb (TptStationPage *self)
{
  tpt_bring_in_dialog_present (find_window (self), self->project, find_code (self));
}

static void
edit_cb (TptStationPage *self)
{
  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_STATIONS,
                             tpt_station_item_get_record (self->item), NULL);
}

static void
rig_row_cb (TptStationPage *self, GtkListBoxRow *row)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.show-unit", "s", tpt_rig_row_get_unit (TPT_RIG_ROW (row)));
}

static void
visit_row_cb (TptStationPage *self, GtkListBoxRow *row)
{
  g_autoptr (TptRecord) visit =
    g_list_model_get_item (tpt_job_station_get_visits (self->job), (guint) gtk_list_box_row_get_index (row));

  tpt_record_dialog_present (find_window (self), self->project, TPT_TABLE_VISITS, visit, NULL);
}

static void
show_position (TptStationPage *self)
{
  TptRecord *station = tpt_station_item_get_record (self->item);
  g_autofree char *words = tpt_field_words_position (station, self->position_shown);

  gtk_label_set_label (self->position, words);
  gtk_widget_set_visible (GTK_WIDGET (self->reveal), tpt_record_is_set (station, "latitude"));
  gtk_button_set_label (GTK_BUTTON (self->reveal), self->position_shown ? _("Hide") : _("Show"));
}

static void
reveal_cb (TptStationPage *self)
{
  self->position_shown = gtk_toggle_button_get_active (self->reveal);
  if (self->item != NULL)
    show_position (self);
}

static void
show_head (TptStationPage *self)
{
  const char *feature = tpt_record_get_text (tpt_station_item_get_record (self->item), "feature");
  gboolean running = tpt_job_station_get_deployment (self->job) != NULL;
  gboolean writable = !tpt_project_get_read_only (self->project);

  tpt_symbol_view_set_symbol (self->symbol, tpt_station_item_get_symbol (self->item));
  gtk_label_set_label (self->title, tpt_station_item_get_title (self->item));
  gtk_label_set_label (self->feature, feature != NULL ? feature : "");
  gtk_widget_set_visible (GTK_WIDGET (self->feature), feature != NULL);
  show_position (self);
  tpt_blank_line_set_station (self->blanks, find_code (self));
  gtk_widget_set_sensitive (self->visit, writable);
  gtk_widget_set_sensitive (self->set_out, writable && !running);
  gtk_widget_set_sensitive (self->bring_in, writable && running);
  gtk_widget_set_sensitive (self->edit, writable);
}

static void
empty_list (GtkListBox *list)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (list))) != NULL)
    gtk_list_box_remove (list, row);
}

static void
title_rig (TptStationPage *self)
{
  TptRecord *deployment = tpt_job_station_get_deployment (self->job);
  g_autofree char *day = NULL;
  g_autofree char *title = NULL;

  if (deployment == NULL)
    {
      gtk_label_set_label (self->rig_title, _("Rig"));
      return;
    }
  day = tpt_words_day (tpt_record_get_instant (deployment, "start"), tpt_project_get_zone (self->project), self->on);
  title = g_strdup_printf (_("Rig since %s"), day);
  gtk_label_set_label (self->rig_title, title);
}

static void
show_rig (TptStationPage *self)
{
  GListModel *rig = tpt_job_station_get_rig (self->job);
  guint n = g_list_model_get_n_items (rig);
  gboolean flash = FALSE;

  title_rig (self);
  empty_list (self->rig);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptRigItem) item = g_list_model_get_item (rig, i);

      gtk_list_box_append (self->rig, tpt_rig_row_new (item, tpt_station_item_get_forecast (self->item),
                                                       tpt_project_get_zone (self->project), self->on));
      flash |= g_strcmp0 (tpt_record_get_text (tpt_rig_item_get_unit (item), "kind"), "flash") == 0;
    }
  gtk_widget_set_visible (GTK_WIDGET (self->rig), n > 0);
  gtk_widget_set_visible (self->no_rig, n == 0);
  gtk_widget_set_visible (self->caution, flash);
}

static void
append_visits (TptStationPage *self, guint from, guint to)
{
  GListModel *visits = tpt_job_station_get_visits (self->job);

  for (guint i = from; i < MIN (to, g_list_model_get_n_items (visits)); i++)
    {
      g_autoptr (TptRecord) visit = g_list_model_get_item (visits, i);
      g_autofree char *words = tpt_field_words_visit (visit);

      gtk_list_box_append (self->visits, tpt_dated_row_new (tpt_record_get_instant (visit, "at"),
                                                            tpt_project_get_zone (self->project), self->on, words));
    }
}

static void
append_log (TptStationPage *self, guint from, guint to)
{
  GListModel *log = tpt_job_station_get_log (self->job);

  for (guint i = from; i < MIN (to, g_list_model_get_n_items (log)); i++)
    {
      g_autoptr (TptLogItem) item = g_list_model_get_item (log, i);
      GtkWidget *row = tpt_dated_row_new (tpt_log_item_get_at (item), tpt_project_get_zone (self->project), self->on,
                                          tpt_log_item_get_text (item));

      gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
      gtk_list_box_append (self->log, row);
    }
}

static void
offer_all (GtkWidget *button, gboolean offered, char *label /* (transfer full) */)
{
  gtk_button_set_label (GTK_BUTTON (button), label);
  gtk_widget_set_visible (button, offered);
  g_free (label);
}

static void
all_visits_cb (TptStationPage *self)
{
  append_visits (self, FEW_VISITS, G_MAXUINT);
  gtk_widget_set_visible (self->all_visits, FALSE);
}

static void
all_log_cb (TptStationPage *self)
{
  append_log (self, FEW_LOG_LINES, G_MAXUINT);
  gtk_widget_set_visible (self->all_log, FALSE);
}

static void
show_history (TptStationPage *self)
{
  guint n_visits = g_list_model_get_n_items (tpt_job_station_get_visits (self->job));
  guint n_log = g_list_model_get_n_items (tpt_job_station_get_log (self->job));

  empty_list (self->visits);
  append_visits (self, 0, FEW_VISITS);
  gtk_widget_set_visible (GTK_WIDGET (self->visits), n_visits > 0);
  gtk_widget_set_visible (self->no_visits, n_visits == 0);
  offer_all (self->all_visits, n_visits > FEW_VISITS, g_strdup_printf (_("Show all %u visits"), n_visits));

  empty_list (self->log);
  append_log (self, 0, FEW_LOG_LINES);
  gtk_widget_set_visible (GTK_WIDGET (self->log), n_log > 0);
  gtk_widget_set_visible (self->log_title, n_log > 0);
  offer_all (self->all_log, n_log > FEW_LOG_LINES, g_strdup_printf (_("Show all %u lines"), n_log));
}

static void
tpt_station_page_dispose (GObject *object)
{
  TptStationPage *self = TPT_STATION_PAGE (object);

  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_STATION_PAGE);
  g_clear_object (&self->project);
  g_clear_object (&self->item);
  g_clear_object (&self->job);
  g_clear_pointer (&self->last_code, g_free);

  G_OBJECT_CLASS (tpt_station_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, stack);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, symbol);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, title);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, feature);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, position);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, reveal);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, blanks);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, visit);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, set_out);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, bring_in);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, edit);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, rig_title);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, rig);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, no_rig);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, visits);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, no_visits);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, all_visits);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, log);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, log_title);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, all_log);
  gtk_widget_class_bind_template_child (widget_class, TptStationPage, caution);
}

static void
tpt_station_page_class_init (TptStationPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_station_page_dispose;

  g_type_ensure (TPT_TYPE_BLANK_LINE);
  g_type_ensure (TPT_TYPE_SYMBOL_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-station-page.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, visit_cb);
  gtk_widget_class_bind_template_callback (widget_class, set_out_cb);
  gtk_widget_class_bind_template_callback (widget_class, bring_in_cb);
  gtk_widget_class_bind_template_callback (widget_class, edit_cb);
  gtk_widget_class_bind_template_callback (widget_class, reveal_cb);
  gtk_widget_class_bind_template_callback (widget_class, rig_row_cb);
  gtk_widget_class_bind_template_callback (widget_class, visit_row_cb);
  gtk_widget_class_bind_template_callback (widget_class, all_visits_cb);
  gtk_widget_class_bind_template_callback (widget_class, all_log_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_station_page_init (TptStationPage *self)
{
  self->on = TPT_NO_INSTANT;
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_station_page_set_project (TptStationPage *self, TptProject *project)
{
  if (!g_set_object (&self->project, project))
    return;
  gtk_toggle_button_set_active (self->reveal, FALSE);
  tpt_blank_line_set_project (self->blanks, project);
  tpt_station_page_show (self, NULL, NULL, TPT_NO_INSTANT);
}

/* Another station begins at the top; the same one stays where it was read. */
static void
settle_scroll (TptStationPage *self)
{
  if (g_strcmp0 (self->last_code, find_code (self)) == 0)
    return;
  g_free (self->last_code);
  self->last_code = g_strdup (find_code (self));
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->scroller), 0);
}

void
tpt_station_page_show (TptStationPage *self, TptStationItem *item, TptJobStation *job, TptInstant on)
{
  gboolean other;

  g_return_if_fail (item == NULL || job != NULL);

  g_set_object (&self->item, item);
  other = g_set_object (&self->job, job) || self->on != on;
  self->on = on;
  gtk_stack_set_visible_child_name (self->stack, item != NULL ? "station" : "none");
  if (item == NULL)
    return;
  show_head (self);
  show_rig (self);
  if (other) /* not for another round */
    show_history (self);
  settle_scroll (self);
}
