#include "tpt-findings-items-private.h"

#include <math.h>

#include "tpt-pass-private.h"

struct _TptSpeciesItem {
  GObject parent_instance;

  TptRecord *record; /* (owned) */
  char *title;       /* (owned) */
  TptRate rate;
};

struct _TptPlaceItem {
  GObject parent_instance;

  TptRecord *record; /* (owned) */
  TptRate rate;
};

G_DEFINE_FINAL_TYPE (TptSpeciesItem, tpt_species_item, G_TYPE_OBJECT)
G_DEFINE_FINAL_TYPE (TptPlaceItem, tpt_place_item, G_TYPE_OBJECT)

static void
tpt_species_item_finalize (GObject *object)
{
  TptSpeciesItem *self = TPT_SPECIES_ITEM (object);

  g_clear_object (&self->record);
  g_free (self->title);

  G_OBJECT_CLASS (tpt_species_item_parent_class)->finalize (object);
}

static void
tpt_species_item_class_init (TptSpeciesItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_species_item_finalize;
}

static void
tpt_species_item_init (TptSpeciesItem *self)
{
  self->rate.per_100 = self->rate.low = self->rate.high = NAN;
}

static void
tpt_place_item_finalize (GObject *object)
{
  g_clear_object (&TPT_PLACE_ITEM (object)->record);

  G_OBJECT_CLASS (tpt_place_item_parent_class)->finalize (object);
}

static void
tpt_place_item_class_init (TptPlaceItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_place_item_finalize;
}

static void
tpt_place_item_init (TptPlaceItem *self)
{
  self->rate.per_100 = self->rate.low = self->rate.high = NAN;
}

/* "es_MX.UTF-8", "es_MX", "es", "C": the first two letters will do. */
char *
tpt_species_title (TptRecord *record)
{
  GHashTable *names = tpt_record_get_names (record);
  const char *const *languages = g_get_language_names ();
  const char *name = NULL;

  for (guint i = 0; name == NULL && languages[i] != NULL; i++)
    {
      g_autofree char *language = g_strndup (languages[i], 2);
      name = g_hash_table_lookup (names, language);
    }
  if (name == NULL)
    name = g_hash_table_lookup (names, "en");
  return g_strdup (name != NULL ? name : tpt_record_get_code (record));
}

TptSpeciesItem *
tpt_species_item_new (TptRecord *record)
{
  TptSpeciesItem *self = g_object_new (TPT_TYPE_SPECIES_ITEM, NULL);

  self->record = g_object_ref (record);
  self->title = tpt_species_title (record);
  return self;
}

static gboolean
equal_folded (const char *a, const char *b)
{
  g_autofree char *x = g_utf8_casefold (a, -1), *y = g_utf8_casefold (b, -1);

  return g_str_equal (x, y);
}

gboolean
tpt_species_is_called (TptRecord *species, const char *name)
{
  GHashTableIter iter;
  gpointer common;

  if (equal_folded (tpt_record_get_code (species), name))
    return TRUE;
  g_hash_table_iter_init (&iter, tpt_record_get_names (species));
  while (g_hash_table_iter_next (&iter, NULL, &common))
    if (equal_folded (common, name))
      return TRUE;
  return FALSE;
}

gboolean
tpt_species_item_is_called (TptSpeciesItem *self, const char *name)
{
  return tpt_species_is_called (self->record, name);
}

TptRate *
tpt_species_item_edit_rate (TptSpeciesItem *self)
{
  return &self->rate;
}

TptRecord *
tpt_species_item_get_record (TptSpeciesItem *self)
{
  return self->record;
}

const char *
tpt_species_item_get_title (TptSpeciesItem *self)
{
  return self->title;
}

const TptRate *
tpt_species_item_get_rate (TptSpeciesItem *self)
{
  return &self->rate;
}

static int
compare_species_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  TptSpeciesItem *x = (gpointer) a, *y = (gpointer) b;
  gint64 nx = tpt_species_item_get_rate (x)->detections, ny = tpt_species_item_get_rate (y)->detections;

  if (nx != ny)
    return nx > ny ? -1 : 1;
  return g_utf8_collate (tpt_species_item_get_title (x), tpt_species_item_get_title (y));
}

void
tpt_species_items_sort (GListStore *items)
{
  g_list_store_sort (items, compare_species_cb, NULL);
}

TptPlaceItem *
tpt_place_item_new (TptRecord *record)
{
  TptPlaceItem *self = g_object_new (TPT_TYPE_PLACE_ITEM, NULL);

  self->record = g_object_ref (record);
  return self;
}

TptRate *
tpt_place_item_edit_rate (TptPlaceItem *self)
{
  return &self->rate;
}

TptRecord *
tpt_place_item_get_record (TptPlaceItem *self)
{
  return self->record;
}

const char *
tpt_place_item_get_title (TptPlaceItem *self)
{
  const char *name = tpt_record_get_text (self->record, "name");

  return name != NULL ? name : tpt_record_get_code (self->record);
}

const TptRate *
tpt_place_item_get_rate (TptPlaceItem *self)
{
  return &self->rate;
}
