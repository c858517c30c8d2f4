#include "tpt-frame-selection.h"

struct _TptFrameSelection {
  GObject parent_instance;

  GListModel *model; /* (owned) (nullable) */
  GtkBitset *chosen; /* (owned) */
};

static void tpt_frame_selection_list_model_init (GListModelInterface *iface);
static void tpt_frame_selection_selection_model_init (GtkSelectionModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TptFrameSelection, tpt_frame_selection, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, tpt_frame_selection_list_model_init)
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SELECTION_MODEL,
                                                      tpt_frame_selection_selection_model_init))

static guint
count_items (TptFrameSelection *self)
{
  return self->model != NULL ? g_list_model_get_n_items (self->model) : 0;
}

static void
items_changed_cb (TptFrameSelection *self, guint position, guint removed, guint added)
{
  gtk_bitset_splice (self->chosen, position, removed, added);
  g_list_model_items_changed (G_LIST_MODEL (self), position, removed, added);
}

static GType
tpt_frame_selection_get_item_type (GListModel *model)
{
  return G_TYPE_OBJECT;
}

static guint
tpt_frame_selection_get_n_items (GListModel *model)
{
  return count_items (TPT_FRAME_SELECTION (model));
}

static gpointer
tpt_frame_selection_get_item (GListModel *model, guint position)
{
  TptFrameSelection *self = TPT_FRAME_SELECTION (model);

  return self->model != NULL ? g_list_model_get_item (self->model, position) : NULL;
}

static void
tpt_frame_selection_list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = tpt_frame_selection_get_item_type;
  iface->get_n_items = tpt_frame_selection_get_n_items;
  iface->get_item = tpt_frame_selection_get_item;
}

static gboolean
tpt_frame_selection_is_selected (GtkSelectionModel *model, guint position)
{
  return gtk_bitset_contains (TPT_FRAME_SELECTION (model)->chosen, position);
}

/* The whole set is no dearer than a part of it. */
static GtkBitset *
tpt_frame_selection_get_selection_in_range (GtkSelectionModel *model, guint position, guint n_items)
{
  return gtk_bitset_ref (TPT_FRAME_SELECTION (model)->chosen);
}

/* Everything else that chooses ends here, as the interface's own defaults do. */
static gboolean
tpt_frame_selection_set_selection (GtkSelectionModel *model, GtkBitset *selected, GtkBitset *mask)
{
  TptFrameSelection *self = TPT_FRAME_SELECTION (model);
  g_autoptr (GtkBitset) changes = gtk_bitset_copy (self->chosen);
  g_autoptr (GtkBitset) chosen = NULL;
  guint n = count_items (self), first, last;

  gtk_bitset_difference (changes, selected); /* what is in one of them only */
  gtk_bitset_intersect (changes, mask);
  gtk_bitset_remove_range (changes, n, G_MAXUINT - n);
  if (gtk_bitset_is_empty (changes))
    return TRUE;
  chosen = gtk_bitset_copy (self->chosen); /* whoever was given the old set keeps it */
  gtk_bitset_difference (chosen, changes);
  gtk_bitset_unref (self->chosen);
  self->chosen = g_steal_pointer (&chosen);
  first = gtk_bitset_get_minimum (changes);
  last = gtk_bitset_get_maximum (changes);
  gtk_selection_model_selection_changed (model, first, last - first + 1);
  return TRUE;
}

static void
tpt_frame_selection_selection_model_init (GtkSelectionModelInterface *iface)
{
  iface->is_selected = tpt_frame_selection_is_selected;
  iface->get_selection_in_range = tpt_frame_selection_get_selection_in_range;
  iface->set_selection = tpt_frame_selection_set_selection;
}

static void
tpt_frame_selection_dispose (GObject *object)
{
  TptFrameSelection *self = TPT_FRAME_SELECTION (object);

  if (self->model != NULL)
    g_signal_handlers_disconnect_by_data (self->model, self);
  g_clear_object (&self->model);

  G_OBJECT_CLASS (tpt_frame_selection_parent_class)->dispose (object);
}

static void
tpt_frame_selection_finalize (GObject *object)
{
  gtk_bitset_unref (TPT_FRAME_SELECTION (object)->chosen);

  G_OBJECT_CLASS (tpt_frame_selection_parent_class)->finalize (object);
}

static void
tpt_frame_selection_class_init (TptFrameSelectionClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_frame_selection_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_frame_selection_finalize;
}

static void
tpt_frame_selection_init (TptFrameSelection *self)
{
  self->chosen = gtk_bitset_new_empty ();
}

TptFrameSelection *
tpt_frame_selection_new (void)
{
  return g_object_new (TPT_TYPE_FRAME_SELECTION, NULL);
}

void
tpt_frame_selection_set_model (TptFrameSelection *self, GListModel *model)
{
  guint before = count_items (self);

  if (self->model == model)
    return;
  if (self->model != NULL)
    g_signal_handlers_disconnect_by_data (self->model, self);
  g_set_object (&self->model, model);
  if (model != NULL)
    g_signal_connect_swapped (model, "items-changed", G_CALLBACK (items_changed_cb), self);
  gtk_bitset_remove_all (self->chosen);
  g_list_model_items_changed (G_LIST_MODEL (self), 0, before, count_items (self));
}

const GtkBitset *
tpt_frame_selection_get_chosen (TptFrameSelection *self)
{
  return self->chosen;
}

void
tpt_frame_selection_choose (TptFrameSelection *self, GtkBitset *positions)
{
  g_autoptr (GtkBitset) all = gtk_bitset_new_range (0, count_items (self));

  gtk_selection_model_set_selection (GTK_SELECTION_MODEL (self), positions, all);
}
