#include "config.h"

#include "tpt-due-list.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-date-entry.h"
#include "tpt-due-row.h"
#include "tpt-due-slot.h"
#include "tpt-list-focus.h"
#include "tpt-round-line.h"
#include "tpt-style.h"

#define HEAD_HEIGHT 42 /* the search entry stands in it, beside the axis */

struct _TptDueList {
  GtkWidget parent_instance;

  TptDueScale *scale;       /* (owned) */
  GListStore *slots;        /* (owned) (element-type TptDueSlot) */
  GtkFilterListModel *shown; /* (owned) */
  GtkSingleSelection *selection; /* (owned) */
  char *chosen;             /* (owned) (nullable): code */
  gboolean choosing;        /* the choice is being set, not clicked */
  guint settle_source;
  gboolean revealing;       /* then the choice is brought into view, */
  double restore_to;        /* else the list goes back to where it was */

  GtkStack *stack;
  GtkLabel *summary;
  GtkLabel *bring;
  GtkLabel *cost;
  TptDateEntry *date;
  GtkLabel *date_label;
  GtkSearchEntry *search;
  GtkStack *rows;
  GtkDrawingArea *head;
  GtkScrolledWindow *scroller;
  GtkListView *list;
  GtkWidget *foot;
  TptRoundLine *line;
};

G_DEFINE_FINAL_TYPE (TptDueList, tpt_due_list, GTK_TYPE_WIDGET)

enum {
  SIGNAL_STATION_CHOSEN,
  SIGNAL_ROUND_MOVING,
  SIGNAL_ROUND_SET,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
draw_head_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  TptDueList *self = data;
  TptFigureStyle style = tpt_style_get_figure_style ();
  TptTimeAxis axis;

  if (!tpt_due_scale_is_set (self->scale))
    return;
  axis = tpt_due_scale_place (self->scale, width);
  tpt_time_axis_draw_labels (&axis, cr, height - tpt_time_axis_height (&style), &style);
}

static gboolean
contains_text (const char *hay, const char *folded_needle)
{
  g_autofree char *folded = hay != NULL ? g_utf8_casefold (hay, -1) : NULL;

  return folded != NULL && strstr (folded, folded_needle) != NULL;
}

/* By name, code, feature and what gives out: "card" finds the full cards. */
static gboolean
match_cb (gpointer item, gpointer data)
{
  TptDueList *self = data;
  TptStationItem *station = tpt_due_slot_get_item (item);
  g_autofree char *needle = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);

  g_strstrip (needle);
  return *needle == '\0' || contains_text (tpt_station_item_get_title (station), needle)
         || contains_text (tpt_station_item_get_code (station), needle)
         || contains_text (tpt_record_get_text (tpt_station_item_get_record (station), "feature"), needle)
         || contains_text (tpt_station_item_get_forecast (station)->limiting_label, needle);
}

static guint
find_position (TptDueList *self, const char *code)
{
  GListModel *model = G_LIST_MODEL (self->selection);

  for (guint i = 0; code != NULL && i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (TptDueSlot) slot = g_list_model_get_item (model, i);

      if (g_strcmp0 (tpt_station_item_get_code (tpt_due_slot_get_item (slot)), code) == 0)
        return i;
    }
  return GTK_INVALID_LIST_POSITION;
}

static void
show_choice (TptDueList *self)
{
  self->choosing = TRUE;
  gtk_single_selection_set_selected (self->selection, find_position (self, self->chosen));
  self->choosing = FALSE;
}

static void
search_cb (TptDueList *self)
{
  gtk_filter_changed (gtk_filter_list_model_get_filter (self->shown), GTK_FILTER_CHANGE_DIFFERENT);
  show_choice (self);
  gtk_stack_set_visible_child_name (self->rows, g_list_model_get_n_items (G_LIST_MODEL (self->shown)) > 0 ? "list" : "none");
}

static void
stop_search_cb (TptDueList *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  gtk_widget_grab_focus (GTK_WIDGET (self->list));
}

static void
selected_cb (TptDueList *self)
{
  TptDueSlot *slot = gtk_single_selection_get_selected_item (self->selection);
  const char *code = slot != NULL ? tpt_station_item_get_code (tpt_due_slot_get_item (slot)) : NULL;

  if (self->choosing || code == NULL || g_strcmp0 (code, self->chosen) == 0)
    return;
  g_free (self->chosen);
  self->chosen = g_strdup (code);
  g_signal_emit (self, signals[SIGNAL_STATION_CHOSEN], 0, self->chosen);
}

static void
moving_cb (TptDueList *self, gint64 at)
{
  tpt_date_entry_set_day (self->date, at, tpt_due_scale_get_zone (self->scale));
  g_signal_emit (self, signals[SIGNAL_ROUND_MOVING], 0, at);
}

static void
dropped_cb (TptDueList *self, gint64 at)
{
  g_signal_emit (self, signals[SIGNAL_ROUND_SET], 0, at);
}

static void
day_tried_cb (TptDueList *self, gint64 at)
{
  TptInstant day = at != TPT_NO_INSTANT ? tpt_due_scale_snap (self->scale, at) : TPT_NO_INSTANT;

  if (day != TPT_NO_INSTANT)
    tpt_due_scale_set_round (self->scale, day);
  g_signal_emit (self, signals[SIGNAL_ROUND_MOVING], 0, (gint64) day);
}

/* A round cannot have been: the nearest day that can is taken instead. */
static void
day_set_cb (TptDueList *self, gint64 at)
{
  TptInstant day = tpt_due_scale_snap (self->scale, at);

  tpt_date_entry_set_day (self->date, day, tpt_due_scale_get_zone (self->scale));
  tpt_due_scale_set_round (self->scale, day);
  g_signal_emit (self, signals[SIGNAL_ROUND_SET], 0, (gint64) day);
}

static void
queue_head_cb (TptDueList *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self->head));
}

static void
reveal_choice (TptDueList *self)
{
  guint position = gtk_single_selection_get_selected (self->selection);

  if (position != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", position);
}

static gboolean
settle_cb (gpointer data)
{
  TptDueList *self = data;

  self->settle_source = 0;
  if (self->revealing)
    reveal_choice (self);
  else
    gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->scroller), self->restore_to);
  self->revealing = FALSE;
  return G_SOURCE_REMOVE;
}

/* Once the list has been laid out: before, new rows have no place to scroll to. */
static void
settle_later (TptDueList *self)
{
  if (self->settle_source == 0)
    self->settle_source = g_idle_add_full (G_PRIORITY_LOW, settle_cb, self, NULL);
}

/* The list forgets where it was when all its items are moved. */
static void
keep_scroll (TptDueList *self)
{
  self->restore_to = gtk_adjustment_get_value (gtk_scrolled_window_get_vadjustment (self->scroller));
  settle_later (self);
}

static void
tpt_due_list_dispose (GObject *object)
{
  TptDueList *self = TPT_DUE_LIST (object);

  g_clear_handle_id (&self->settle_source, g_source_remove);
  if (self->shown != NULL)
    gtk_filter_list_model_set_filter (self->shown, NULL);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_DUE_LIST);
  g_clear_object (&self->selection);
  g_clear_object (&self->shown);
  g_clear_object (&self->slots);
  g_clear_object (&self->scale);
  g_clear_pointer (&self->chosen, g_free);

  G_OBJECT_CLASS (tpt_due_list_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptDueList, stack);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, summary);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, bring);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, cost);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, date);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, date_label);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, search);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, rows);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, head);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, scroller);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, list);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, foot);
  gtk_widget_class_bind_template_child (widget_class, TptDueList, line);
}

static void
tpt_due_list_class_init (TptDueListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_due_list_dispose;

  signals[SIGNAL_STATION_CHOSEN] =
    g_signal_new ("station-chosen", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SIGNAL_ROUND_MOVING] =
    g_signal_new ("round-moving", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[SIGNAL_ROUND_SET] =
    g_signal_new ("round-set", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);

  g_type_ensure (TPT_TYPE_DATE_ENTRY);
  g_type_ensure (TPT_TYPE_DUE_ROW);
  g_type_ensure (TPT_TYPE_DUE_SLOT);
  g_type_ensure (TPT_TYPE_ROUND_LINE);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-due-list.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, search_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_search_cb);
  gtk_widget_class_bind_template_callback (widget_class, moving_cb);
  gtk_widget_class_bind_template_callback (widget_class, dropped_cb);
  gtk_widget_class_bind_template_callback (widget_class, day_tried_cb);
  gtk_widget_class_bind_template_callback (widget_class, day_set_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_due_list_init (TptDueList *self)
{
  TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

  self->scale = tpt_due_scale_new ();
  gtk_widget_init_template (GTK_WIDGET (self));

  self->slots = g_list_store_new (TPT_TYPE_DUE_SLOT);
  self->shown = gtk_filter_list_model_new (g_object_ref (G_LIST_MODEL (self->slots)), GTK_FILTER (gtk_custom_filter_new (match_cb, self, NULL)));
  self->selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (self->shown)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (self->selection));
  tpt_list_focus_install (GTK_WIDGET (self->list));

  gtk_label_set_mnemonic_widget (self->date_label, tpt_date_entry_get_entry (self->date));
  gtk_widget_set_size_request (GTK_WIDGET (self->head), -1, MAX (HEAD_HEIGHT, (int) tpt_time_axis_height (&style)));
  gtk_widget_set_size_request (self->foot, -1, TPT_ROUND_LINE_FOOT);
  gtk_drawing_area_set_draw_func (self->head, draw_head_cb, self, NULL);
  tpt_round_line_set_scale (self->line, self->scale);
  g_signal_connect_object (self->scale, "changed", G_CALLBACK (queue_head_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark", G_CALLBACK (queue_head_cb), self,
                           G_CONNECT_SWAPPED);
}

/* While the line is in somebody's hand, the axis below it stands still. */
static void
show_time (TptDueList *self, TptJobDue *due, TptZone *zone)
{
  if (tpt_round_line_is_moving (self->line))
    return;
  tpt_due_scale_set_time (self->scale, tpt_job_due_get_axis (due), zone, tpt_job_due_get_on (due));
  tpt_due_scale_set_round (self->scale, tpt_job_due_get_until (due));
  tpt_date_entry_set_day (self->date, tpt_job_due_get_until (due), zone);
}

/* Somebody who has just opened a project goes on in the list. */
static void
take_focus (TptDueList *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self->list)))
    gtk_widget_grab_focus (GTK_WIDGET (self->list));
}

/* (transfer full): the slot of each station by its code. */
static GHashTable *
index_slots (TptDueList *self)
{
  GHashTable *by_code = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->slots)); i++)
    {
      g_autoptr (TptDueSlot) slot = g_list_model_get_item (G_LIST_MODEL (self->slots), i);

      g_hash_table_insert (by_code, (gpointer) tpt_station_item_get_code (tpt_due_slot_get_item (slot)), slot);
    }
  return by_code;
}

/* (transfer full): the slots in the order of @stations, kept where the station
 * has one. Their items are set afterwards: the index goes by the old ones. */
static GPtrArray *
order_slots (TptDueList *self, GListModel *stations)
{
  g_autoptr (GHashTable) by_code = index_slots (self);
  GPtrArray *ordered = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint i = 0; i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);
      TptDueSlot *slot = g_hash_table_lookup (by_code, tpt_station_item_get_code (item));

      g_ptr_array_add (ordered, slot != NULL ? g_object_ref (slot) : tpt_due_slot_new ());
    }
  return ordered;
}

static gboolean
is_in_order (TptDueList *self, GPtrArray *ordered)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->slots));

  for (guint i = 0; n == ordered->len && i < n; i++)
    {
      g_autoptr (TptDueSlot) slot = g_list_model_get_item (G_LIST_MODEL (self->slots), i);

      if (slot != ordered->pdata[i])
        return FALSE;
    }
  return n == ordered->len;
}

/* Rows stay with their stations; the list is put in another order only when it
 * has one. What is searched for may have changed all the same. */
static void
fill_slots (TptDueList *self, GListModel *stations)
{
  g_autoptr (GPtrArray) ordered = order_slots (self, stations);

  for (guint i = 0; i < ordered->len; i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      tpt_due_slot_set_item (ordered->pdata[i], item);
    }
  if (!is_in_order (self, ordered))
    {
      keep_scroll (self);
      g_list_store_splice (self->slots, 0, g_list_model_get_n_items (G_LIST_MODEL (self->slots)), ordered->pdata, ordered->len);
    }
  else if (*gtk_editable_get_text (GTK_EDITABLE (self->search)) != '\0')
    gtk_filter_changed (gtk_filter_list_model_get_filter (self->shown), GTK_FILTER_CHANGE_DIFFERENT);
}

void
tpt_due_list_set_due (TptDueList *self, TptJobDue *due, TptZone *zone)
{
  GListModel *stations = tpt_job_due_get_stations (due);
  gboolean first = g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), "waiting") == 0;

  show_time (self, due, zone);
  gtk_label_set_label (self->summary, tpt_job_due_get_summary (due));
  gtk_label_set_label (self->bring, tpt_job_due_get_bring (due));
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->bring), tpt_job_due_get_bring (due)); /* may be too long for the pane */
  gtk_widget_set_visible (GTK_WIDGET (self->bring), *tpt_job_due_get_bring (due) != '\0');

  self->choosing = TRUE;
  fill_slots (self, stations);
  self->choosing = FALSE;
  show_choice (self);
  gtk_stack_set_visible_child_name (self->stack, g_list_model_get_n_items (stations) > 0 ? "stations" : "empty");
  gtk_stack_set_visible_child_name (self->rows, g_list_model_get_n_items (G_LIST_MODEL (self->shown)) > 0 ? "list" : "none");
  if (first)
    take_focus (self);
}

void
tpt_due_list_set_cost (TptDueList *self, const char *words, const char *spoken)
{
  gtk_label_set_label (self->cost, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->cost), words != NULL);
  tpt_round_line_set_cost (self->line, spoken);
}

void
tpt_due_list_clear (TptDueList *self)
{
  g_clear_pointer (&self->chosen, g_free);
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  self->choosing = TRUE;
  g_list_store_remove_all (self->slots);
  self->choosing = FALSE;
  tpt_due_list_set_cost (self, NULL, NULL);
  gtk_stack_set_visible_child_name (self->stack, "waiting");
}

void
tpt_due_list_choose (TptDueList *self, const char *code)
{
  if (g_strcmp0 (self->chosen, code) != 0)
    {
      g_free (self->chosen);
      self->chosen = g_strdup (code);
    }
  show_choice (self);
  reveal_choice (self);
  self->revealing = TRUE;
  settle_later (self);
}

TptDueScale *
tpt_due_list_get_scale (TptDueList *self)
{
  return self->scale;
}
