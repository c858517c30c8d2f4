#include "tpt-species-list.h"

#include <math.h>
#include <string.h>

#include "tpt-list-focus.h"
#include "tpt-species-row.h"

/* Letters within this of each other are of one word. */
#define TYPING_MS 400

struct _TptSpeciesList {
  GtkWidget parent_instance;

  GtkListView *view;
  GtkDropDown *order;

  GListStore *rows;              /* (owned) (element-type GObject): a string object for all, then the species */
  GtkSingleSelection *selection; /* (owned) */
  char *chosen;                  /* (owned) (nullable) */
  char *beside;                  /* (owned) (nullable) */
  GListModel *species;           /* (owned) (nullable): as given */
  gint64 most;
  TptRate all;
  GString *typed;       /* (owned): the beginning of a name, while somebody types it */
  guint typing_source;
  gboolean setting; /* the selection changes by itself */
};

G_DEFINE_FINAL_TYPE (TptSpeciesList, tpt_species_list, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHOSEN,
  SIGNAL_BESIDE,
  SIGNAL_MENU_ASKED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static const char *
get_name (gpointer object)
{
  return TPT_IS_SPECIES_ITEM (object) ? tpt_record_get_code (tpt_species_item_get_record (object)) : NULL;
}

/* With Control a click is not one that chooses. */
static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, gpointer data)
{
  TptSpeciesList *self = data;
  GtkWidget *row = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (gesture));
  const char *name = tpt_species_row_get_name (TPT_SPECIES_ROW (row));
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (name == NULL || (button != GDK_BUTTON_SECONDARY && !(button == GDK_BUTTON_PRIMARY && (state & GDK_CONTROL_MASK))))
    return;
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  if (button == GDK_BUTTON_SECONDARY)
    g_signal_emit (self, signals[SIGNAL_MENU_ASKED], 0, name, row);
  else
    g_signal_emit (self, signals[SIGNAL_BESIDE], 0, name);
}

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *row = tpt_species_row_new ();
  GtkGesture *press = gtk_gesture_click_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (press), 0);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (press), GTK_PHASE_CAPTURE);
  g_signal_connect_object (press, "pressed", G_CALLBACK (pressed_cb), data, 0);
  gtk_widget_add_controller (row, GTK_EVENT_CONTROLLER (press));
  gtk_list_item_set_child (item, row);
}

/* (nullable): the row that has the focus: the list's own widget around it does. */
static TptSpeciesRow *
find_focused (TptSpeciesList *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  GtkWidget *child = focus != NULL && gtk_widget_is_ancestor (focus, GTK_WIDGET (self->view)) ? gtk_widget_get_first_child (focus) : NULL;

  return TPT_IS_SPECIES_ROW (child) ? TPT_SPECIES_ROW (child) : NULL;
}

/* Whether @typed, both folded, is found in @title where a word begins. */
static gboolean
has_word (const char *title, const char *typed)
{
  g_autofree char *folded = g_utf8_casefold (title, -1);

  for (const char *at = folded; at != NULL; at = strchr (at, ' '))
    {
      at += *at == ' ';
      if (g_str_has_prefix (at, typed))
        return TRUE;
    }
  return FALSE;
}

/* The first row from the top that is called so, in either language; 0 for none. */
static guint
find_typed (TptSpeciesList *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->rows));

  for (guint i = 1; i < n; i++)
    {
      g_autoptr (GObject) object = g_list_model_get_item (G_LIST_MODEL (self->rows), i);

      if (has_word (tpt_species_item_get_title (TPT_SPECIES_ITEM (object)), self->typed->str) ||
          has_word (get_name (object), self->typed->str))
        return i;
    }
  return 0;
}

/* Where the row is on the screen already, the keyboard goes there too. */
static void
focus_row (TptSpeciesList *self, const char *name)
{
  for (GtkWidget *at = gtk_widget_get_first_child (GTK_WIDGET (self->view)); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *row = gtk_widget_get_first_child (at);

      if (TPT_IS_SPECIES_ROW (row) && g_strcmp0 (tpt_species_row_get_name (TPT_SPECIES_ROW (row)), name) == 0)
        gtk_widget_grab_focus (at);
    }
}

static gboolean
typed_cb (gpointer data)
{
  TptSpeciesList *self = data;
  guint row = find_typed (self);

  self->typing_source = 0;
  g_string_truncate (self->typed, 0);
  if (row == 0)
    return G_SOURCE_REMOVE;
  gtk_single_selection_set_selected (self->selection, row);
  gtk_widget_activate_action (GTK_WIDGET (self->view), "list.scroll-to-item", "u", row);
  focus_row (self, self->chosen);
  return G_SOURCE_REMOVE;
}

static gboolean
type (TptSpeciesList *self, guint keyval, GdkModifierType state)
{
  gunichar letter = gdk_keyval_to_unicode (keyval);
  g_autofree char *folded = NULL;
  gboolean between = letter == ' ' && self->typed->len > 0; /* two words of one name */
  char text[7] = "";

  if (!(g_unichar_isgraph (letter) || between) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return FALSE;
  g_unichar_to_utf8 (letter, text);
  folded = g_utf8_casefold (text, -1);
  g_string_append (self->typed, folded);
  g_clear_handle_id (&self->typing_source, g_source_remove);
  self->typing_source = g_timeout_add (TYPING_MS, typed_cb, self);
  return TRUE;
}

static gboolean
key_cb (TptSpeciesList *self, guint keyval, guint keycode, GdkModifierType state)
{
  TptSpeciesRow *row = find_focused (self);
  const char *name = row != NULL ? tpt_species_row_get_name (row) : NULL;
  gboolean control = (state & GDK_CONTROL_MASK) != 0, enter = keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter;
  gboolean menu = keyval == GDK_KEY_Menu || (keyval == GDK_KEY_F10 && (state & GDK_SHIFT_MASK));

  if (name == NULL || !(menu || (control && enter)))
    return type (self, keyval, state);
  if (menu)
    g_signal_emit (self, signals[SIGNAL_MENU_ASKED], 0, name, row);
  else
    g_signal_emit (self, signals[SIGNAL_BESIDE], 0, name);
  return TRUE;
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  TptSpeciesList *self = data;
  TptSpeciesRow *row = TPT_SPECIES_ROW (gtk_list_item_get_child (item));
  gpointer object = gtk_list_item_get_item (item);

  if (TPT_IS_SPECIES_ITEM (object))
    tpt_species_row_show (row, object, self->most);
  else
    tpt_species_row_show_all (row, &self->all);
  tpt_species_row_set_beside (row, self->beside != NULL && g_strcmp0 (tpt_species_row_get_name (row), self->beside) == 0);
}

static void
selected_cb (GtkSingleSelection *selection, GParamSpec *pspec, gpointer data)
{
  TptSpeciesList *self = data;
  gpointer object = gtk_single_selection_get_selected_item (selection);

  if (self->setting || object == NULL || g_strcmp0 (get_name (object), self->chosen) == 0)
    return;
  g_free (self->chosen);
  self->chosen = g_strdup (get_name (object));
  g_signal_emit (self, signals[SIGNAL_CHOSEN], 0);
}

static guint
find_row (TptSpeciesList *self, const char *scientific)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->rows));

  for (guint i = 1; scientific != NULL && i < n; i++)
    {
      g_autoptr (GObject) object = g_list_model_get_item (G_LIST_MODEL (self->rows), i);

      if (g_strcmp0 (get_name (object), scientific) == 0)
        return i;
    }
  return 0;
}

static void
add_rates (TptSpeciesList *self, const TptRate *rate)
{
  self->most = MAX (self->most, rate->detections);
  self->all.detections += rate->detections;
  self->all.individuals += rate->individuals;
  self->all.nights = rate->nights;
}

/* The rows stay when nothing on them is new, so that the keyboard keeps its place. */
static gboolean
says_the_same (TptSpeciesItem *a, TptSpeciesItem *b)
{
  const TptRate *x = tpt_species_item_get_rate (a), *y = tpt_species_item_get_rate (b);

  return tpt_record_equal (tpt_species_item_get_record (a), tpt_species_item_get_record (b)) &&
         g_strcmp0 (tpt_species_item_get_title (a), tpt_species_item_get_title (b)) == 0 &&
         x->detections == y->detections && x->nights == y->nights && x->individuals == y->individuals &&
         x->stations == y->stations;
}

/* Whether the rows are of these, in their order. */
static gboolean
is_shown (TptSpeciesList *self, GPtrArray *species)
{
  guint n = species->len;

  if (n + 1 != g_list_model_get_n_items (G_LIST_MODEL (self->rows)))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptSpeciesItem) shown = g_list_model_get_item (G_LIST_MODEL (self->rows), i + 1);

      if (!says_the_same (species->pdata[i], shown))
        return FALSE;
    }
  return TRUE;
}

static void
select_row (TptSpeciesList *self, guint row)
{
  self->setting = TRUE;
  gtk_single_selection_set_selected (self->selection, row);
  self->setting = FALSE;
}

/* What was not seen has no rate and comes last; equals are in the order of their names. */
static int
compare_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  TptSpeciesItem *x = *(gpointer *) a, *y = *(gpointer *) b;
  const TptRate *rx = tpt_species_item_get_rate (x), *ry = tpt_species_item_get_rate (y);
  double dx = 0, dy = 0;

  switch ((TptSpeciesOrder) GPOINTER_TO_UINT (data))
    {
    case TPT_SPECIES_BY_DETECTIONS:
      dx = (double) rx->detections;
      dy = (double) ry->detections;
      break;
    case TPT_SPECIES_BY_STATIONS:
      dx = rx->stations;
      dy = ry->stations;
      break;
    case TPT_SPECIES_BY_RATE:
      dx = isnan (rx->per_100) ? -1 : rx->per_100;
      dy = isnan (ry->per_100) ? -1 : ry->per_100;
      break;
    case TPT_SPECIES_BY_TITLE:
      break;
    }
  if (dx > dy || dx < dy)
    return dx > dy ? -1 : 1;
  return g_utf8_collate (tpt_species_item_get_title (x), tpt_species_item_get_title (y));
}

/* (transfer full) (element-type TptSpeciesItem): in the order of the drop-down. */
static GPtrArray *
put_in_order (TptSpeciesList *self)
{
  GPtrArray *items = g_ptr_array_new_with_free_func (g_object_unref);
  guint n = self->species != NULL ? g_list_model_get_n_items (self->species) : 0;

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (items, g_list_model_get_item (self->species, i));
  g_ptr_array_sort_with_data (items, compare_cb, GUINT_TO_POINTER (gtk_drop_down_get_selected (self->order)));
  return items;
}

static void
fill (TptSpeciesList *self, GPtrArray *species)
{
  self->most = 0;
  self->all = (TptRate) { .per_100 = NAN, .low = NAN, .high = NAN };
  for (guint i = 0; i < species->len; i++)
    add_rates (self, tpt_species_item_get_rate (species->pdata[i]));
  if (self->species != NULL)
    g_ptr_array_insert (species, 0, gtk_string_object_new (""));
  g_list_store_splice (self->rows, 0, g_list_model_get_n_items (G_LIST_MODEL (self->rows)), species->pdata, species->len);
}

/* In another order the row that is chosen may be elsewhere. */
static void
show_chosen (TptSpeciesList *self)
{
  guint row = gtk_single_selection_get_selected (self->selection);

  if (row != GTK_INVALID_LIST_POSITION)
    gtk_widget_activate_action (GTK_WIDGET (self->view), "list.scroll-to-item", "u", row);
}

static void
show_rows (TptSpeciesList *self)
{
  g_autoptr (GPtrArray) species = put_in_order (self);

  if (self->species != NULL && is_shown (self, species))
    return;
  self->setting = TRUE;
  fill (self, species);
  self->setting = FALSE;
  tpt_species_list_set_chosen (self, self->chosen);
  show_chosen (self);
}

static void
order_cb (TptSpeciesList *self)
{
  if (self->rows != NULL)
    show_rows (self);
}

static void
tpt_species_list_dispose (GObject *object)
{
  TptSpeciesList *self = TPT_SPECIES_LIST (object);

  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_SPECIES_LIST);
  g_clear_object (&self->selection);
  g_clear_object (&self->rows);
  g_clear_handle_id (&self->typing_source, g_source_remove);
  g_clear_object (&self->species);
  g_clear_pointer (&self->chosen, g_free);
  g_clear_pointer (&self->beside, g_free);

  G_OBJECT_CLASS (tpt_species_list_parent_class)->dispose (object);
}

/* Into the rows rather than to their order. */
static gboolean
tpt_species_list_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (TPT_SPECIES_LIST (widget)->view));
}

static void
tpt_species_list_finalize (GObject *object)
{
  g_string_free (TPT_SPECIES_LIST (object)->typed, TRUE);
  G_OBJECT_CLASS (tpt_species_list_parent_class)->finalize (object);
}

static void
tpt_species_list_class_init (TptSpeciesListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_species_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_species_list_finalize;
  widget_class->grab_focus = tpt_species_list_grab_focus;
  signals[SIGNAL_CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 0);
  signals[SIGNAL_BESIDE] = g_signal_new ("beside", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SIGNAL_MENU_ASKED] = g_signal_new ("menu-asked", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                             NULL, G_TYPE_NONE, 2, G_TYPE_STRING, GTK_TYPE_WIDGET);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-species-list.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "head", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "scrolled", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "foot", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesList, view);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesList, order);
  gtk_widget_class_bind_template_callback (widget_class, order_cb);
}

static void
tpt_species_list_init (TptSpeciesList *self)
{
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  self->typed = g_string_new (NULL);
  self->rows = g_list_store_new (G_TYPE_OBJECT);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->rows)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  g_signal_connect (self->selection, "notify::selected", G_CALLBACK (selected_cb), self);
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), self);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), self);
  gtk_list_view_set_factory (self->view, factory);
  gtk_list_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  tpt_list_focus_install (GTK_WIDGET (self->view));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->view), keys);
}

void
tpt_species_list_set_species (TptSpeciesList *self, GListModel *species)
{
  g_set_object (&self->species, species);
  show_rows (self);
}

const char *
tpt_species_list_get_chosen (TptSpeciesList *self)
{
  return self->chosen;
}

void
tpt_species_list_set_chosen (TptSpeciesList *self, const char *scientific)
{
  guint row = find_row (self, scientific);
  char *chosen = row > 0 ? g_strdup (scientific) : NULL;

  g_free (self->chosen);
  self->chosen = chosen;
  select_row (self, g_list_model_get_n_items (G_LIST_MODEL (self->rows)) > 0 ? row : GTK_INVALID_LIST_POSITION);
}

GtkSelectionModel *
tpt_species_list_get_model (TptSpeciesList *self)
{
  return GTK_SELECTION_MODEL (self->selection);
}

/* Rows are told through their widgets, so that none is made anew. */
static void
mark_rows (TptSpeciesList *self)
{
  for (GtkWidget *at = gtk_widget_get_first_child (GTK_WIDGET (self->view)); at != NULL; at = gtk_widget_get_next_sibling (at))
    {
      GtkWidget *row = gtk_widget_get_first_child (at);

      if (TPT_IS_SPECIES_ROW (row))
        tpt_species_row_set_beside (TPT_SPECIES_ROW (row), self->beside != NULL &&
                                    g_strcmp0 (tpt_species_row_get_name (TPT_SPECIES_ROW (row)), self->beside) == 0);
    }
}

void
tpt_species_list_set_beside (TptSpeciesList *self, const char *scientific)
{
  if (g_strcmp0 (self->beside, scientific) == 0)
    return;
  g_free (self->beside);
  self->beside = g_strdup (scientific);
  mark_rows (self);
}

char *
tpt_species_list_get_title (TptSpeciesList *self, const char *scientific)
{
  guint row = find_row (self, scientific);
  g_autoptr (TptSpeciesItem) item = row > 0 ? g_list_model_get_item (G_LIST_MODEL (self->rows), row) : NULL;

  return item != NULL ? g_strdup (tpt_species_item_get_title (item)) : NULL;
}

void
tpt_species_list_set_order (TptSpeciesList *self, TptSpeciesOrder order)
{
  gtk_drop_down_set_selected (self->order, order);
}
