#include "config.h"

#include "tpt-job-import.h"

#include <glib/gi18n-lib.h>

#include "tpt-import-private.h"

typedef enum {
  SOURCE_TABLE,
  SOURCE_GPX,
  SOURCE_GEOJSON,
} SourceKind;

typedef struct {
  const char *path; /* (unowned) */
  SourceKind kind;
  int rank; /* tables that others refer to first */
} Source;

struct _TptJobImport {
  TptJob parent_instance;

  /* Input arguments */
  GStrv paths; /* (owned) */
  gboolean dry_run;
  gboolean lenient;

  /* Results */
  TptImportCounts counts;
  GPtrArray *refused; /* (owned) (element-type TptRefusal) */
};

G_DEFINE_FINAL_TYPE (TptJobImport, tpt_job_import, TPT_TYPE_JOB)

static SourceKind
guess_kind (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  if (g_str_has_suffix (lower, ".gpx"))
    return SOURCE_GPX;
  if (g_str_has_suffix (lower, ".geojson") || g_str_has_suffix (lower, ".json"))
    return SOURCE_GEOJSON;
  return SOURCE_TABLE;
}

static int
compare_sources_cb (gconstpointer a, gconstpointer b)
{
  const Source *x = a, *y = b;

  return (x->rank > y->rank) - (x->rank < y->rank);
}

/* Units before stations would do too; what counts is that a row finds what it
 * refers to. g_array_sort() is stable for equal ranks. */
static GArray *
order_sources (TptJobImport *self)
{
  GArray *sources = g_array_new (FALSE, FALSE, sizeof (Source));

  for (guint i = 0; self->paths[i] != NULL; i++)
    {
      Source source = { self->paths[i], guess_kind (self->paths[i]), 0 };
      int table = source.kind == SOURCE_TABLE ? tpt_import_recognise (source.path) : TPT_TABLE_STATIONS;

      /* The list of species comes before what refers to it. */
      source.rank = table == TPT_TABLE_SPECIES ? TPT_TABLE_STATIONS : table;
      g_array_append_val (sources, source);
    }
  g_array_sort (sources, compare_sources_cb);
  return sources;
}

static gboolean
read_source (TptJobImport *self, TptStore *store, const Source *source, TptImportCounts *counts, GPtrArray *refusals,
             GCancellable *cancellable, GError **error)
{
  switch (source->kind)
    {
    case SOURCE_GPX:
    case SOURCE_GEOJSON:
      return tpt_import_features (store, source->path, source->kind == SOURCE_GEOJSON, counts, refusals, cancellable, error);
    case SOURCE_TABLE:
    default:
      return tpt_import_table (store, source->path, self->lenient, counts, refusals, cancellable, error);
    }
}

/* Refusals go to the results, counts only from a source that was taken. */
static void
settle_source (TptJobImport *self, const TptImportCounts *counts, GPtrArray *refusals)
{
  if (tpt_refusals_count_lost (refusals) == 0)
    {
      self->counts.added += counts->added;
      self->counts.updated += counts->updated;
      self->counts.unchanged += counts->unchanged;
    }
  while (refusals->len > 0)
    g_ptr_array_add (self->refused, g_ptr_array_steal_index (refusals, 0));
}

static gboolean
take_source (TptJobImport *self, TptStore *store, const Source *source, GCancellable *cancellable, GError **error)
{
  g_autofree char *name = g_path_get_basename (source->path);
  g_autofree char *shown = g_filename_display_name (name);
  g_autofree char *what = g_strdup_printf (_("Import %s"), shown);
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (TptAction) action = tpt_action_begin (store, what, error);
  TptImportCounts counts = { 0 };

  if (action == NULL || !read_source (self, store, source, &counts, refusals, cancellable, error))
    return FALSE;
  if (tpt_refusals_count_lost (refusals) == 0 && !tpt_action_commit (action, error))
    return FALSE;
  settle_source (self, &counts, refusals);
  return TRUE;
}

/* A dry run goes through the same steps in one action that is dropped, so that
 * a later source finds what an earlier one would bring. */
static gboolean
look_at_source (TptJobImport *self, TptStore *store, TptAction *action, const Source *source, GCancellable *cancellable,
                GError **error)
{
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  TptImportCounts counts = { 0 };

  if (!tpt_action_mark (action, error) || !read_source (self, store, source, &counts, refusals, cancellable, error))
    return FALSE;
  if (tpt_refusals_count_lost (refusals) > 0 && !tpt_action_return_to_mark (action, error))
    return FALSE;
  settle_source (self, &counts, refusals);
  return TRUE;
}

static gboolean
tpt_job_import_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobImport *self = TPT_JOB_IMPORT (job);
  g_autoptr (GArray) sources = order_sources (self);
  g_autoptr (TptAction) dry = NULL;

  if (self->dry_run)
    {
      dry = tpt_action_begin (store, "", error);
      if (dry == NULL)
        return FALSE;
    }
  for (guint i = 0; i < sources->len; i++)
    {
      const Source *source = &g_array_index (sources, Source, i);

      g_autofree char *shown = g_filename_display_basename (source->path);

      tpt_job_report (job, (double) i / sources->len, shown);
      if (!(dry != NULL ? look_at_source (self, store, dry, source, cancellable, error)
                        : take_source (self, store, source, cancellable, error)))
        return FALSE;
    }
  tpt_job_report (job, 1, NULL);
  return TRUE;
}

static void
tpt_job_import_dispose (GObject *object)
{
  TptJobImport *self = TPT_JOB_IMPORT (object);

  g_clear_pointer (&self->paths, g_strfreev);
  g_clear_pointer (&self->refused, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_import_parent_class)->dispose (object);
}

static void
tpt_job_import_class_init (TptJobImportClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_import_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_import_run;
  TPT_JOB_CLASS (klass)->writes = TRUE;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_import_init (TptJobImport *self)
{
  self->refused = tpt_refusals_new ();
}

TptJobImport *
tpt_job_import_new (const char *const *paths, gboolean dry_run, gboolean lenient)
{
  TptJobImport *self = g_object_new (TPT_TYPE_JOB_IMPORT, NULL);

  self->paths = g_strdupv ((GStrv) paths);
  self->dry_run = dry_run;
  self->lenient = lenient;
  return self;
}

gint64
tpt_job_import_get_added (TptJobImport *self)
{
  return self->counts.added;
}

gint64
tpt_job_import_get_updated (TptJobImport *self)
{
  return self->counts.updated;
}

gint64
tpt_job_import_get_unchanged (TptJobImport *self)
{
  return self->counts.unchanged;
}

guint
tpt_job_import_get_n_refused (TptJobImport *self)
{
  return self->refused->len;
}

guint
tpt_job_import_get_n_lost (TptJobImport *self)
{
  return tpt_refusals_count_lost (self->refused);
}

gboolean
tpt_job_import_get_refused (TptJobImport *self, guint index, const char **file, gint64 *line, const char **column,
                            const char **reason)
{
  const TptRefusal *refusal = self->refused->pdata[index];

  *file = refusal->file;
  *line = refusal->line;
  *column = refusal->column;
  *reason = refusal->reason;
  return !refusal->kept;
}

char *
tpt_job_import_describe_refused (TptJobImport *self, guint index)
{
  return tpt_refusal_to_string (self->refused->pdata[index]);
}
