#include "config.h"

#include "tpt-unit-list.h"

#include <glib/gi18n-lib.h>

#include "tpt-list-focus.h"
#include "tpt-unit-row.h"
#include "tpt-words.h"

struct _TptUnitList {
  GtkWidget parent_instance;

  GListModel *units;             /* (owned) (nullable) */
  GtkFilterListModel *shown;     /* (owned) */
  GtkSingleSelection *selection; /* (owned) */
  char *chosen;                  /* (owned) (nullable): code */
  TptZone *zone;                 /* (owned) (nullable) */
  TptInstant now;
  gboolean choosing; /* the choice is being set, not clicked */
  gboolean pending;  /* filters have to give way once there are units */
  guint restore_source;
  double restore_to;

  GtkLabel *count;
  GtkDropDown *show;
  GtkDropDown *kind;
  GtkSearchEntry *search;
  GtkStack *stack;
  GtkScrolledWindow *scroller;
  GtkListView *list;
};

G_DEFINE_FINAL_TYPE (TptUnitList, tpt_unit_list, GTK_TYPE_WIDGET)

enum {
  SIGNAL_UNIT_CHOSEN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static const char *const *
get_kinds (void)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_UNITS);

  return table->columns[tpt_table_find (table, "kind")].choices;
}

static gboolean
contains_text (const char *hay, const char *folded_needle)
{
  g_autofree char *folded = hay != NULL ? g_utf8_casefold (hay, -1) : NULL;

  return folded != NULL && strstr (folded, folded_needle) != NULL;
}

static gboolean
fits_place (TptUnitList *self, TptUnitItem *item)
{
  static const TptUnitPlace places[] = {
    [TPT_UNIT_SHOW_SHELF] = TPT_UNIT_ON_SHELF,
    [TPT_UNIT_SHOW_RIG] = TPT_UNIT_IN_RIG,
    [TPT_UNIT_SHOW_RETIRED] = TPT_UNIT_RETIRED,
  };
  guint show = gtk_drop_down_get_selected (self->show);

  return show >= G_N_ELEMENTS (places) || tpt_unit_item_get_place (item) == places[show];
}

static gboolean
fits_kind (TptUnitList *self, TptUnitItem *item)
{
  guint kind = gtk_drop_down_get_selected (self->kind);

  return kind == 0 || kind == GTK_INVALID_LIST_POSITION
         || g_strcmp0 (tpt_record_get_text (tpt_unit_item_get_record (item), "kind"), get_kinds ()[kind - 1]) == 0;
}

/* By what it is called, its code, its maker, its serial number and where it is. */
static gboolean
fits_search (TptUnitList *self, TptUnitItem *item)
{
  static const char *const columns[] = { "unit", "label", "make", "model", "serial", "notes" };
  g_autofree char *needle = g_utf8_casefold (gtk_editable_get_text (GTK_EDITABLE (self->search)), -1);

  g_strstrip (needle);
  if (*needle == '\0' || contains_text (tpt_unit_item_get_station_title (item), needle)
      || contains_text (tpt_choice_label (tpt_record_get_text (tpt_unit_item_get_record (item), "kind")), needle))
    return TRUE;
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    if (contains_text (tpt_record_get_text (tpt_unit_item_get_record (item), columns[i]), needle))
      return TRUE;
  return FALSE;
}

static gboolean
match_cb (gpointer item, gpointer data)
{
  return fits_place (data, item) && fits_kind (data, item) && fits_search (data, item);
}

static guint
find_position (GListModel *model, const char *code)
{
  for (guint i = 0; model != NULL && code != NULL && i < g_list_model_get_n_items (model); i++)
    {
      g_autoptr (TptUnitItem) item = g_list_model_get_item (model, i);

      if (g_strcmp0 (tpt_unit_item_get_code (item), code) == 0)
        return i;
    }
  return GTK_INVALID_LIST_POSITION;
}

static void
show_count (TptUnitList *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->shown));
  g_autofree char *number = tpt_words_number (n);
  g_autofree char *text = g_strdup_printf (ngettext ("%s unit", "%s units", n), number);

  gtk_label_set_label (self->count, text);
  gtk_stack_set_visible_child_name (self->stack, self->units == NULL ? "waiting" : n > 0 ? "list" : "none");
}

static void
show_choice (TptUnitList *self)
{
  self->choosing = TRUE;
  gtk_single_selection_set_selected (self->selection, find_position (G_LIST_MODEL (self->selection), self->chosen));
  self->choosing = FALSE;
  show_count (self);
}

static void
filter_cb (TptUnitList *self)
{
  if (self->shown == NULL)
    return;
  self->choosing = TRUE;
  gtk_filter_changed (gtk_filter_list_model_get_filter (self->shown), GTK_FILTER_CHANGE_DIFFERENT);
  self->choosing = FALSE;
  show_choice (self);
}

static void
stop_search_cb (TptUnitList *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  gtk_widget_grab_focus (GTK_WIDGET (self->list));
}

static void
selected_cb (TptUnitList *self)
{
  TptUnitItem *item = gtk_single_selection_get_selected_item (self->selection);

  if (self->choosing || item == NULL || g_strcmp0 (tpt_unit_item_get_code (item), self->chosen) == 0)
    return;
  g_free (self->chosen);
  self->chosen = g_strdup (tpt_unit_item_get_code (item));
  g_signal_emit (self, signals[SIGNAL_UNIT_CHOSEN], 0, self->chosen);
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  gtk_list_item_set_child (item, tpt_unit_row_new ());
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  TptUnitList *self = data;

  tpt_unit_row_show (TPT_UNIT_ROW (gtk_list_item_get_child (item)), gtk_list_item_get_item (item), self->zone, self->now);
}

static gboolean
restore_cb (gpointer data)
{
  TptUnitList *self = data;

  self->restore_source = 0;
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (self->scroller), self->restore_to);
  return G_SOURCE_REMOVE;
}

/* The list forgets where it was when all its items are replaced. */
static void
keep_scroll (TptUnitList *self)
{
  self->restore_to = gtk_adjustment_get_value (gtk_scrolled_window_get_vadjustment (self->scroller));
  if (self->restore_source == 0)
    self->restore_source = g_idle_add_full (G_PRIORITY_LOW, restore_cb, self, NULL);
}

static void
fill_kinds (TptUnitList *self)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);

  gtk_string_list_append (words, _("All kinds"));
  for (guint i = 0; get_kinds ()[i] != NULL; i++)
    gtk_string_list_append (words, tpt_choice_label (get_kinds ()[i]));
  gtk_drop_down_set_model (self->kind, G_LIST_MODEL (words));
}

static void
tpt_unit_list_dispose (GObject *object)
{
  TptUnitList *self = TPT_UNIT_LIST (object);

  g_clear_handle_id (&self->restore_source, g_source_remove);
  if (self->shown != NULL)
    gtk_filter_list_model_set_filter (self->shown, NULL);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_UNIT_LIST);
  g_clear_object (&self->selection);
  g_clear_object (&self->shown);
  g_clear_object (&self->units);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_clear_pointer (&self->chosen, g_free);

  G_OBJECT_CLASS (tpt_unit_list_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child_full (widget_class, "head", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "filters", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, count);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, show);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, kind);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, search);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, stack);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, scroller);
  gtk_widget_class_bind_template_child (widget_class, TptUnitList, list);
}

static void
tpt_unit_list_class_init (TptUnitListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_unit_list_dispose;

  signals[SIGNAL_UNIT_CHOSEN] = g_signal_new ("unit-chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                              NULL, G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/units/tpt-unit-list.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, filter_cb);
  gtk_widget_class_bind_template_callback (widget_class, stop_search_cb);
}

static void
tpt_unit_list_init (TptUnitList *self)
{
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  fill_kinds (self);
  self->shown = gtk_filter_list_model_new (NULL, GTK_FILTER (gtk_custom_filter_new (match_cb, self, NULL)));
  self->selection = gtk_single_selection_new (g_object_ref (G_LIST_MODEL (self->shown)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  g_signal_connect_object (self->selection, "notify::selected-item", G_CALLBACK (selected_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "setup", G_CALLBACK (setup_cb), self, 0);
  g_signal_connect_object (factory, "bind", G_CALLBACK (bind_cb), self, 0);
  gtk_list_view_set_factory (self->list, factory);
  gtk_list_view_set_model (self->list, GTK_SELECTION_MODEL (self->selection));
  tpt_list_focus_install (GTK_WIDGET (self->list));
  show_count (self);
}

static void
make_way (TptUnitList *self)
{
  self->pending = self->units == NULL && self->chosen != NULL;
  if (find_position (self->units, self->chosen) == GTK_INVALID_LIST_POSITION ||
      find_position (G_LIST_MODEL (self->shown), self->chosen) != GTK_INVALID_LIST_POSITION)
    return;
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  gtk_drop_down_set_selected (self->kind, 0);
  gtk_drop_down_set_selected (self->show, TPT_UNIT_SHOW_ALL);
  filter_cb (self);
}

void
tpt_unit_list_set_units (TptUnitList *self, GListModel *units, TptZone *zone, TptInstant now)
{
  g_set_object (&self->units, units);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  self->zone = zone != NULL ? tpt_zone_ref (zone) : NULL;
  self->now = now;
  keep_scroll (self);
  self->choosing = TRUE;
  gtk_filter_list_model_set_model (self->shown, units);
  self->choosing = FALSE;
  if (units != NULL && self->pending)
    make_way (self);
  show_choice (self);
}

void
tpt_unit_list_set_show (TptUnitList *self, TptUnitShow show)
{
  gtk_drop_down_set_selected (self->show, show);
}

void
tpt_unit_list_set_kind (TptUnitList *self, const char *kind)
{
  guint position = 0;

  for (guint i = 0; kind != NULL && get_kinds ()[i] != NULL; i++)
    if (g_str_equal (get_kinds ()[i], kind))
      position = i + 1;
  gtk_drop_down_set_selected (self->kind, position);
}

void
tpt_unit_list_choose (TptUnitList *self, const char *code)
{
  guint position;

  g_free (self->chosen);
  self->chosen = g_strdup (code);
  make_way (self);
  show_choice (self);
  position = gtk_single_selection_get_selected (self->selection);
  if (position != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (GTK_WIDGET (self->list), "list.scroll-to-item", "u", position);
}

const char *
tpt_unit_list_get_chosen (TptUnitList *self)
{
  return self->chosen;
}

GListModel *
tpt_unit_list_get_shown (TptUnitList *self)
{
  return G_LIST_MODEL (self->shown);
}
