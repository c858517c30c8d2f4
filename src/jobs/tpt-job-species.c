#include "config.h"

#include "tpt-job-species.h"

#include "tpt-findings-items-private.h"
#include "tpt-records.h"
#include "tpt-seen-species.h"
#include "tpt-starter-list-private.h"

struct _TptJobSpecies {
  TptJob parent_instance;

  /* Results */
  GPtrArray *entries; /* (owned) (element-type TptSpeciesEntry) */
  guint starters;
};

G_DEFINE_FINAL_TYPE (TptJobSpecies, tpt_job_species, TPT_TYPE_JOB)

static void
free_entry (gpointer data)
{
  TptSpeciesEntry *entry = data;

  g_object_unref (entry->record);
  g_free (entry->title);
  g_free (entry);
}

static int
compare_titles_cb (gconstpointer a, gconstpointer b)
{
  const TptSpeciesEntry *first = *(TptSpeciesEntry *const *) a, *second = *(TptSpeciesEntry *const *) b;
  int order = g_utf8_collate (first->title, second->title);

  return order != 0 ? order : g_strcmp0 (tpt_record_get_code (first->record), tpt_record_get_code (second->record));
}

static gint64
find_count (GArray *counts, gint64 id)
{
  for (guint i = 0; i < counts->len; i++)
    if (g_array_index (counts, TptSeenSpecies, i).species_id == id)
      return g_array_index (counts, TptSeenSpecies, i).observations;
  return 0;
}

static void
add_entry (TptJobSpecies *self, TptRecord *record, GArray *counts)
{
  g_autoptr (TptSpeciesItem) item = tpt_species_item_new (record);
  TptSpeciesEntry *entry = g_new0 (TptSpeciesEntry, 1);

  entry->record = g_object_ref (record);
  entry->title = g_strdup (tpt_species_item_get_title (item));
  entry->seen = find_count (counts, tpt_record_get_id (record));
  g_ptr_array_add (self->entries, entry);
}

static gboolean
count_starters (TptJobSpecies *self, TptStore *store, GError **error)
{
  g_autoptr (GHashTable) there = g_hash_table_new (g_str_hash, g_str_equal);
  const TptStarterSpecies *list;
  gboolean fits;
  guint n;

  if (!tpt_starter_list_fits (store, &fits, error))
    return FALSE;
  for (guint i = 0; i < self->entries->len; i++)
    g_hash_table_add (there, (gpointer) tpt_record_get_code (((TptSpeciesEntry *) self->entries->pdata[i])->record));
  list = tpt_starter_list_get (&n);
  for (guint i = 0; fits && i < n; i++)
    self->starters += !g_hash_table_contains (there, list[i].scientific);
  return TRUE;
}

static gboolean
tpt_job_species_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobSpecies *self = TPT_JOB_SPECIES (job);
  g_autoptr (GPtrArray) records = tpt_store_list (store, TPT_TABLE_SPECIES, NULL, NULL, error);
  g_autoptr (GArray) counts = records != NULL ? tpt_store_count_species (store, error) : NULL;

  if (counts == NULL)
    return FALSE;
  for (guint i = 0; i < records->len; i++)
    add_entry (self, records->pdata[i], counts);
  g_ptr_array_sort (self->entries, compare_titles_cb);
  return count_starters (self, store, error);
}

static void
tpt_job_species_finalize (GObject *object)
{
  g_ptr_array_unref (TPT_JOB_SPECIES (object)->entries);

  G_OBJECT_CLASS (tpt_job_species_parent_class)->finalize (object);
}

static void
tpt_job_species_class_init (TptJobSpeciesClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_job_species_finalize;
  TPT_JOB_CLASS (klass)->run = tpt_job_species_run;
}

static void
tpt_job_species_init (TptJobSpecies *self)
{
  self->entries = g_ptr_array_new_with_free_func (free_entry);
}

TptJobSpecies *
tpt_job_species_new (void)
{
  return g_object_new (TPT_TYPE_JOB_SPECIES, NULL);
}

GPtrArray *
tpt_job_species_get_entries (TptJobSpecies *self)
{
  return self->entries;
}

guint
tpt_job_species_get_starters (TptJobSpecies *self)
{
  return self->starters;
}
