#include "tpt-job-names.h"

#include <string.h>

#include "tpt-fold.h"
#include "tpt-name-counts.h"
#include "tpt-names-private.h"

struct _TptJobNames {
  TptJob parent_instance;

  /* Input arguments */
  char *station;  /* (owned) (nullable) */
  int minute;
  char *language; /* (owned) (nullable) */

  /* Results */
  GPtrArray *names; /* (owned) (element-type TptName) */
};

G_DEFINE_FINAL_TYPE (TptJobNames, tpt_job_names, TPT_TYPE_JOB)

static void
free_name (gpointer data)
{
  TptName *name = data;

  g_free (name->species);
  g_free (name->common);
  g_free (name->names);
  g_free (name);
}

/* Every name of the species, ready to be searched. */
static char *
fold_names (const TptNameCount *count, GArray *common, guint first, guint n)
{
  GString *all = g_string_new (NULL);
  g_autofree char *scientific = tpt_fold_text (count->species);

  g_string_append (all, scientific);
  for (guint i = first; i < first + n; i++)
    {
      g_autofree char *folded = tpt_fold_text (g_array_index (common, TptCommonName, i).name);

      g_string_append_printf (all, "\n%s", folded);
    }
  return g_string_free (all, FALSE);
}

/* Both arrays go by the species' key. */
static void
add_names (TptJobNames *self, GArray *counts, GArray *common)
{
  guint first = 0;

  for (guint i = 0; i < counts->len; i++)
    {
      const TptNameCount *count = &g_array_index (counts, TptNameCount, i);
      TptName *name = g_new0 (TptName, 1);
      guint n = 0;

      while (first < common->len && g_array_index (common, TptCommonName, first).species_id < count->species_id)
        first++;
      while (first + n < common->len && g_array_index (common, TptCommonName, first + n).species_id == count->species_id)
        n++;
      name->species = g_strdup (count->species);
      name->common = g_strdup (tpt_namer_choose (common, first, n, self->language));
      name->names = fold_names (count, common, first, n);
      name->here = count->here;
      name->station = count->station;
      name->project = count->project;
      g_ptr_array_add (self->names, name);
      first += n;
    }
}

static int
compare_counts (gint64 a, gint64 b)
{
  return (a < b) - (a > b);
}

static int
compare_names_cb (gconstpointer first, gconstpointer second)
{
  const TptName *a = *(TptName *const *) first, *b = *(TptName *const *) second;
  int by_here = compare_counts (a->here, b->here), by_station = compare_counts (a->station, b->station);
  int by_project = compare_counts (a->project, b->project);
  int by_name;

  if (by_here != 0 || by_station != 0 || by_project != 0)
    return by_here != 0 ? by_here : by_station != 0 ? by_station : by_project;
  by_name = g_utf8_collate (a->common != NULL ? a->common : a->species, b->common != NULL ? b->common : b->species);
  return by_name != 0 ? by_name : strcmp (a->species, b->species);
}

static gboolean
tpt_job_names_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobNames *self = TPT_JOB_NAMES (job);
  g_autoptr (GArray) counts = tpt_store_count_names (store, self->station, self->minute, error);
  g_autoptr (GArray) common = counts != NULL ? tpt_store_read_common_names (store, 0, error) : NULL;

  if (common == NULL)
    return FALSE;
  add_names (self, counts, common);
  g_ptr_array_sort (self->names, compare_names_cb);
  return TRUE;
}

static void
tpt_job_names_dispose (GObject *object)
{
  TptJobNames *self = TPT_JOB_NAMES (object);

  g_clear_pointer (&self->station, g_free);
  g_clear_pointer (&self->language, g_free);
  g_clear_pointer (&self->names, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_names_parent_class)->dispose (object);
}

static void
tpt_job_names_class_init (TptJobNamesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_names_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_names_run;
}

static void
tpt_job_names_init (TptJobNames *self)
{
  self->names = g_ptr_array_new_with_free_func (free_name);
}

TptJobNames *
tpt_job_names_new (const char *station, int minute, const char *language)
{
  TptJobNames *self = g_object_new (TPT_TYPE_JOB_NAMES, NULL);

  self->station = g_strdup (station);
  self->minute = minute;
  self->language = g_strdup (language);
  return self;
}

GPtrArray *
tpt_job_names_get_names (TptJobNames *self)
{
  return self->names;
}
