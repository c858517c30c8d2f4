#include "config.h"

#include "tpt-frame-grid.h"

#include <glib/gi18n-lib.h>

#include "tpt-frame-cell.h"
#include "tpt-list-focus.h"

#define COLUMNS_MOST 10 /* the view makes cells for thirty rows of these, in sight or not */

struct _TptFrameGrid {
  GtkWidget parent_instance;

  GtkScrolledWindow *scroller;
  GtkGridView *view;
  TptFrameSelection *selection; /* (owned) */
  GPtrArray *cells;             /* (owned) (element-type TptFrameCell) (not owned): those that are bound */
  TptZone *zone;                /* (not owned) (nullable) */

  gboolean station_shown;

  guint look_source;
  guint open_source;
  guint open_at;
  guint go_tick;
  guint go_wait; /* frames to let pass */
  guint go_to;
  gboolean go_focus;
};

G_DEFINE_FINAL_TYPE (TptFrameGrid, tpt_frame_grid, GTK_TYPE_WIDGET)

enum {
  SIGNAL_OPENED,
  SIGNAL_CHOSEN_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* --- what is in sight -------------------------------------------------------- */

/* Up to one more screen above and below: the next page is there before it is scrolled to. */
static gboolean
is_near (TptFrameGrid *self, GtkWidget *cell, double beyond)
{
  graphene_rect_t bounds;
  double height = gtk_widget_get_height (GTK_WIDGET (self->scroller));

  return gtk_widget_get_mapped (cell) && gtk_widget_compute_bounds (cell, GTK_WIDGET (self->scroller), &bounds) &&
         bounds.origin.y < height * (1 + beyond) && bounds.origin.y + bounds.size.height > -height * beyond;
}

/* The newest request is served first: those in sight come last. */
static gboolean
look_cb (gpointer data)
{
  TptFrameGrid *self = data;

  self->look_source = 0;
  for (guint i = 0; i < self->cells->len; i++)
    if (!is_near (self, self->cells->pdata[i], 1))
      tpt_frame_cell_set_wanted (self->cells->pdata[i], FALSE);
    else if (!is_near (self, self->cells->pdata[i], 0))
      tpt_frame_cell_set_wanted (self->cells->pdata[i], TRUE);
  for (guint i = 0; i < self->cells->len; i++)
    if (is_near (self, self->cells->pdata[i], 0))
      tpt_frame_cell_set_wanted (self->cells->pdata[i], TRUE);
  return G_SOURCE_REMOVE;
}

/* After the cells have got their places. */
static void
queue_look (TptFrameGrid *self)
{
  if (self->look_source == 0)
    self->look_source = g_idle_add_full (GDK_PRIORITY_REDRAW + 10, look_cb, self, NULL);
}

/* --- cells ----------------------------------------------------------------------- */

static void
setup_cb (TptFrameGrid *self, GtkListItem *item)
{
  gtk_list_item_set_child (item, GTK_WIDGET (tpt_frame_cell_new ()));
}

static void
bind_cb (TptFrameGrid *self, GtkListItem *item)
{
  TptFrameCell *cell = TPT_FRAME_CELL (gtk_list_item_get_child (item));

  tpt_frame_cell_set_station_shown (cell, self->station_shown);
  tpt_frame_cell_bind (cell, gtk_list_item_get_item (item), gtk_list_item_get_position (item), self->zone);
  g_ptr_array_add (self->cells, cell);
  queue_look (self);
}

static void
unbind_cb (TptFrameGrid *self, GtkListItem *item)
{
  TptFrameCell *cell = TPT_FRAME_CELL (gtk_list_item_get_child (item));

  g_ptr_array_remove_fast (self->cells, cell);
  tpt_frame_cell_unbind (cell);
}

static gboolean
open_cb (gpointer data)
{
  TptFrameGrid *self = data;

  self->open_source = 0;
  g_signal_emit (self, signals[SIGNAL_OPENED], 0, self->open_at);
  return G_SOURCE_REMOVE;
}

/* Later: after a double click the list would take the focus back. */
static void
activate_cb (TptFrameGrid *self, guint position)
{
  self->open_at = position;
  if (self->open_source == 0)
    self->open_source = g_idle_add (open_cb, self);
}

static void
chosen_cb (TptFrameGrid *self)
{
  g_signal_emit (self, signals[SIGNAL_CHOSEN_CHANGED], 0);
}

/* --- going somewhere ---------------------------------------------------------------- */

/* (nullable): the cell of a position, if it has one. */
static GtkWidget *
find_cell (TptFrameGrid *self, guint position)
{
  for (guint i = 0; i < self->cells->len; i++)
    if (tpt_frame_cell_get_position (self->cells->pdata[i]) == position)
      return self->cells->pdata[i];
  return NULL;
}

/* The list's own widget around a cell is what takes the focus. */
static void
focus_cell (TptFrameGrid *self)
{
  GtkWidget *cell = find_cell (self, self->go_to);

  gtk_widget_grab_focus (cell != NULL ? gtk_widget_get_parent (cell) : GTK_WIDGET (self->view));
}

/* Places are given out between two frames: a list that has just changed, or has just come into sight, has
 * none yet, and a cell that was far away comes a frame after it was scrolled to. */
static gboolean
go_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  TptFrameGrid *self = TPT_FRAME_GRID (widget);
  gboolean there = self->go_to < g_list_model_get_n_items (G_LIST_MODEL (self->selection));

  self->go_wait--;
  if (self->go_wait == 1 && there)
    gtk_widget_activate_action (GTK_WIDGET (self->view), "list.scroll-to-item", "u", self->go_to);
  if (self->go_wait > 0)
    return G_SOURCE_CONTINUE;
  self->go_tick = 0;
  if (self->go_focus && there)
    focus_cell (self);
  queue_look (self);
  return G_SOURCE_REMOVE;
}

/* Out of sight nothing has a place; it is gone to once it comes into sight. */
static void
start_going (TptFrameGrid *self)
{
  self->go_wait = 3;
  if (self->go_tick == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->go_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), go_cb, NULL, NULL);
}

static void
stop_going (TptFrameGrid *self)
{
  if (self->go_tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->go_tick);
  self->go_tick = 0;
}

/* --- the object ------------------------------------------------------------------------ */

static gboolean
tpt_frame_grid_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (TPT_FRAME_GRID (widget)->view));
}

static void
tpt_frame_grid_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  GTK_WIDGET_CLASS (tpt_frame_grid_parent_class)->size_allocate (widget, width, height, baseline);
  queue_look (TPT_FRAME_GRID (widget));
}

static void
tpt_frame_grid_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (tpt_frame_grid_parent_class)->map (widget);
  queue_look (TPT_FRAME_GRID (widget));
  start_going (TPT_FRAME_GRID (widget));
}

/* Where it was, it is again when it comes back. */
static void
tpt_frame_grid_unmap (GtkWidget *widget)
{
  TptFrameGrid *self = TPT_FRAME_GRID (widget);
  guint position = self->go_tick == 0 ? tpt_frame_grid_get_position (self) : G_MAXUINT;

  if (position != G_MAXUINT)
    {
      self->go_to = position;
      self->go_focus = FALSE;
    }
  stop_going (self);
  GTK_WIDGET_CLASS (tpt_frame_grid_parent_class)->unmap (widget);
}

static void
tpt_frame_grid_dispose (GObject *object)
{
  TptFrameGrid *self = TPT_FRAME_GRID (object);

  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_handle_id (&self->open_source, g_source_remove);
  stop_going (self);
  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  g_clear_pointer ((GtkWidget **) &self->scroller, gtk_widget_unparent);
  g_clear_object (&self->selection);

  G_OBJECT_CLASS (tpt_frame_grid_parent_class)->dispose (object);
}

static void
tpt_frame_grid_finalize (GObject *object)
{
  g_ptr_array_unref (TPT_FRAME_GRID (object)->cells);

  G_OBJECT_CLASS (tpt_frame_grid_parent_class)->finalize (object);
}

static void
tpt_frame_grid_class_init (TptFrameGridClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_frame_grid_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_frame_grid_finalize;
  widget_class->grab_focus = tpt_frame_grid_grab_focus;
  widget_class->size_allocate = tpt_frame_grid_size_allocate;
  widget_class->map = tpt_frame_grid_map;
  widget_class->unmap = tpt_frame_grid_unmap;
  signals[SIGNAL_OPENED] =
    g_signal_new ("opened", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[SIGNAL_CHOSEN_CHANGED] =
    g_signal_new ("chosen-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

/* GTK 4.8 chooses the first or the last, but does not always scroll there. */
static gboolean
key_cb (TptFrameGrid *self, guint keyval, guint keycode, GdkModifierType state)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->selection));

  if (n > 0 && (keyval == GDK_KEY_Home || keyval == GDK_KEY_KP_Home))
    tpt_frame_grid_go (self, 0, TRUE);
  else if (n > 0 && (keyval == GDK_KEY_End || keyval == GDK_KEY_KP_End))
    tpt_frame_grid_go (self, n - 1, TRUE);
  return FALSE;
}

static void
add_keys (TptFrameGrid *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->view), keys);
  tpt_list_focus_install (GTK_WIDGET (self->view));
}

static GtkListItemFactory *
make_factory (TptFrameGrid *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect_object (factory, "setup", G_CALLBACK (setup_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "bind", G_CALLBACK (bind_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (factory, "unbind", G_CALLBACK (unbind_cb), self, G_CONNECT_SWAPPED);
  return factory;
}

static void
make_view (TptFrameGrid *self)
{
  self->view = GTK_GRID_VIEW (gtk_grid_view_new (NULL, make_factory (self)));
  gtk_grid_view_set_min_columns (self->view, 1);
  gtk_grid_view_set_max_columns (self->view, COLUMNS_MOST);
  gtk_widget_add_css_class (GTK_WIDGET (self->view), "frame-grid");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->view), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Triggers"), -1);
  g_signal_connect_swapped (self->view, "activate", G_CALLBACK (activate_cb), self);
  add_keys (self);
}

static void
tpt_frame_grid_init (TptFrameGrid *self)
{
  self->cells = g_ptr_array_new ();
  self->selection = tpt_frame_selection_new ();
  g_signal_connect_swapped (self->selection, "selection-changed", G_CALLBACK (chosen_cb), self);
  g_signal_connect_swapped (self->selection, "items-changed", G_CALLBACK (chosen_cb), self);
  make_view (self);
  self->scroller = GTK_SCROLLED_WINDOW (gtk_scrolled_window_new ());
  gtk_scrolled_window_set_policy (self->scroller, GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (self->scroller, GTK_WIDGET (self->view));
  gtk_widget_set_parent (GTK_WIDGET (self->scroller), GTK_WIDGET (self));
  g_signal_connect_object (gtk_scrolled_window_get_vadjustment (self->scroller), "value-changed",
                           G_CALLBACK (queue_look), self, G_CONNECT_SWAPPED);
}

TptFrameGrid *
tpt_frame_grid_new (void)
{
  return g_object_new (TPT_TYPE_FRAME_GRID, NULL);
}

/* Without a list there is no model either: the view lets go of all its cells. */
void
tpt_frame_grid_set_list (TptFrameGrid *self, TptFrameList *list, TptZone *zone)
{
  if (list == NULL)
    gtk_grid_view_set_model (self->view, NULL);
  self->zone = zone;
  tpt_frame_selection_set_model (self->selection, list != NULL ? G_LIST_MODEL (list) : NULL);
  if (list != NULL)
    gtk_grid_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
}

void
tpt_frame_grid_set_station_shown (TptFrameGrid *self, gboolean shown)
{
  self->station_shown = shown;
  for (guint i = 0; i < self->cells->len; i++)
    tpt_frame_cell_set_station_shown (self->cells->pdata[i], shown);
}

TptFrameSelection *
tpt_frame_grid_get_selection (TptFrameGrid *self)
{
  return self->selection;
}

void
tpt_frame_grid_go (TptFrameGrid *self, guint position, gboolean focus)
{
  self->go_focus = focus || (self->go_tick != 0 && self->go_focus);
  self->go_to = position;
  start_going (self);
}

/* (nullable): the cell the keyboard is at. */
static TptFrameCell *
find_focused (TptFrameGrid *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  GtkWidget *child;

  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (self->view)))
    return NULL;
  child = gtk_widget_get_first_child (focus);
  return TPT_IS_FRAME_CELL (child) ? TPT_FRAME_CELL (child) : NULL;
}

guint
tpt_frame_grid_get_position (TptFrameGrid *self)
{
  TptFrameCell *focused = find_focused (self);
  guint first = G_MAXUINT;

  if (focused != NULL)
    return tpt_frame_cell_get_position (focused);
  for (guint i = 0; i < self->cells->len; i++)
    if (is_near (self, self->cells->pdata[i], 0))
      first = MIN (first, tpt_frame_cell_get_position (self->cells->pdata[i]));
  return first;
}

gboolean
tpt_frame_grid_has_focus (TptFrameGrid *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && (focus == GTK_WIDGET (self->view) || gtk_widget_is_ancestor (focus, GTK_WIDGET (self->view)));
}
