#include "tpt-species-list.h"

#include <math.h>

#include "tpt-list-focus.h"
#include "tpt-species-row.h"

struct _TptSpeciesList {
  GtkWidget parent_instance;

  GtkListView *view;

  GListStore *rows;              /* (owned) (element-type GObject): a string object for all, then the species */
  GtkSingleSelection *selection; /* (owned) */
  char *chosen;                  /* (owned) (nullable) */
  gint64 most;
  TptRate all;
  gboolean setting; /* the selection changes by itself */
};

G_DEFINE_FINAL_TYPE (TptSpeciesList, tpt_species_list, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHOSEN,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
setup_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  gtk_list_item_set_child (item, tpt_species_row_new ());
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
}

static const char *
get_name (gpointer object)
{
  return TPT_IS_SPECIES_ITEM (object) ? tpt_record_get_code (tpt_species_item_get_record (object)) : NULL;
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
         x->detections == y->detections && x->nights == y->nights && x->individuals == y->individuals;
}

static gboolean
is_shown (TptSpeciesList *self, GListModel *species)
{
  guint n = g_list_model_get_n_items (species);

  if (n + 1 != g_list_model_get_n_items (G_LIST_MODEL (self->rows)))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptSpeciesItem) fresh = g_list_model_get_item (species, i);
      g_autoptr (TptSpeciesItem) shown = g_list_model_get_item (G_LIST_MODEL (self->rows), i + 1);

      if (!says_the_same (fresh, shown))
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

static void
fill (TptSpeciesList *self, GListModel *species)
{
  g_autoptr (GPtrArray) objects = g_ptr_array_new_with_free_func (g_object_unref);
  guint n = species != NULL ? g_list_model_get_n_items (species) : 0;

  self->most = 0;
  self->all = (TptRate) { .per_100 = NAN, .low = NAN, .high = NAN };
  if (species != NULL)
    g_ptr_array_add (objects, gtk_string_object_new (""));
  for (guint i = 0; i < n; i++)
    {
      TptSpeciesItem *item = g_list_model_get_item (species, i);

      add_rates (self, tpt_species_item_get_rate (item));
      g_ptr_array_add (objects, item);
    }
  g_list_store_splice (self->rows, 0, g_list_model_get_n_items (G_LIST_MODEL (self->rows)), objects->pdata, objects->len);
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
  g_clear_pointer (&self->chosen, g_free);

  G_OBJECT_CLASS (tpt_species_list_parent_class)->dispose (object);
}

static void
tpt_species_list_class_init (TptSpeciesListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_species_list_dispose;
  signals[SIGNAL_CHOSEN] = g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/findings/tpt-species-list.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "head", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "scrolled", FALSE, 0);
  gtk_widget_class_bind_template_child_full (widget_class, "foot", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptSpeciesList, view);
}

static void
tpt_species_list_init (TptSpeciesList *self)
{
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  self->rows = g_list_store_new (G_TYPE_OBJECT);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->rows)));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  g_signal_connect (self->selection, "notify::selected", G_CALLBACK (selected_cb), self);
  g_signal_connect (factory, "setup", G_CALLBACK (setup_cb), self);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), self);
  gtk_list_view_set_factory (self->view, factory);
  gtk_list_view_set_model (self->view, GTK_SELECTION_MODEL (self->selection));
  tpt_list_focus_install (GTK_WIDGET (self->view));
}

void
tpt_species_list_set_species (TptSpeciesList *self, GListModel *species)
{
  if (species != NULL && is_shown (self, species))
    return;
  self->setting = TRUE;
  fill (self, species);
  self->setting = FALSE;
  tpt_species_list_set_chosen (self, self->chosen);
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
