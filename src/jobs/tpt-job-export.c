#include "config.h"

#include "tpt-job-export.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "tpt-csv.h"
#include "tpt-error.h"
#include "tpt-export-discretion-private.h"
#include "tpt-records.h"

struct _TptJobExport {
  TptJob parent_instance;

  /* Input arguments */
  char *out; /* (owned) */
  gboolean exact;

  /* In-progress data */
  TptStore *store;                /* (unowned) */
  GCancellable *cancellable;      /* (unowned) (nullable) */
  TptExportDiscretion *discretion; /* (owned) */
  TptCsvWriter *writer;           /* (owned): of the present table */
  GStrv columns;                  /* (owned): of the present table */
  gint64 n_rows;                  /* of the present table */

  /* Results */
  GPtrArray *files; /* (owned) (element-type utf8): NULL-terminated */
  GArray *counts;   /* (owned) (element-type gint64): rows of each */
  gint64 rows, generalised, people;
};

G_DEFINE_FINAL_TYPE (TptJobExport, tpt_job_export, TPT_TYPE_JOB)

gboolean
tpt_job_export_knows (const char *format)
{
  return g_str_equal (format, "csv");
}

static gboolean
fail (GError **error, const char *format, const char *path, int number)
{
  g_autofree char *shown = g_filename_display_name (path);
  g_auto (GStrv) parts = g_strsplit (format, "%s", 2);

  g_set_error (error, TPT_ERROR, TPT_ERROR_IO, "%s%s%s: %s", parts[0], shown, parts[1], g_strerror (number));
  return FALSE;
}

static gboolean
note_languages_cb (TptRecord *record, gpointer data, GError **error)
{
  g_autoptr (GList) languages = g_hash_table_get_keys (tpt_record_get_names (record));

  for (GList *l = languages; l != NULL; l = l->next)
    g_hash_table_add (data, g_strdup (l->data));
  return TRUE;
}

/* The columns of a species, and one for each language anything is named in. */
static gboolean
add_languages (TptJobExport *self, GStrvBuilder *names, GError **error)
{
  g_autoptr (GHashTable) languages = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GList) sorted = NULL;

  if (!tpt_store_each (self->store, TPT_TABLE_SPECIES, note_languages_cb, languages, error))
    return FALSE;
  sorted = g_list_sort (g_hash_table_get_keys (languages), (GCompareFunc) strcmp);
  for (GList *l = sorted; l != NULL; l = l->next)
    {
      g_autofree char *column = g_strconcat ("common_", l->data, NULL);
      g_strv_builder_add (names, column);
    }
  return TRUE;
}

static gboolean
choose_columns (TptJobExport *self, const TptTable *table, GError **error)
{
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();

  for (guint i = 0; i < table->n_columns; i++)
    g_strv_builder_add (names, table->columns[i].name);
  if (table->id == TPT_TABLE_SPECIES && !add_languages (self, names, error))
    return FALSE;
  self->columns = g_strv_builder_end (names);
  return TRUE;
}

static gboolean
write_record (TptJobExport *self, TptRecord *record, GError **error)
{
  const TptTable *table = tpt_record_get_table (record);
  TptZone *zone = tpt_store_get_zone (self->store);

  for (guint i = 0; self->columns[i] != NULL; i++)
    {
      const char *column = self->columns[i];
      g_autofree char *cell = NULL;

      if (tpt_table_find (table, column) >= 0)
        cell = tpt_record_to_string (record, column, zone);
      else
        cell = g_strdup (g_hash_table_lookup (tpt_record_get_names (record), column + strlen ("common_")));
      tpt_csv_writer_add_text (self->writer, cell);
    }
  self->n_rows++;
  return tpt_csv_writer_end_row (self->writer, error);
}

static gboolean
write_cb (TptRecord *record, gpointer data, GError **error)
{
  TptJobExport *self = data;

  if (g_cancellable_set_error_if_cancelled (self->cancellable, error))
    return FALSE;
  if (!tpt_export_discretion_allows (self->discretion, record))
    {
      self->people++;
      return TRUE;
    }
  self->generalised += tpt_export_discretion_soften (self->discretion, record);
  return write_record (self, record, error);
}

static gboolean
write_table (TptJobExport *self, const char *folder, const TptTable *table, GError **error)
{
  char *name = g_strconcat (table->name, ".csv", NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  gboolean good;

  g_ptr_array_insert (self->files, (int) self->files->len - 1, name);
  self->n_rows = 0;
  if (!choose_columns (self, table, error))
    return FALSE;
  self->writer = tpt_csv_writer_new (path, (const char *const *) self->columns, error);
  good = self->writer != NULL && tpt_store_each (self->store, table->id, write_cb, self, error) &&
         tpt_csv_writer_commit (self->writer, error);
  g_clear_pointer (&self->writer, tpt_csv_writer_free);
  g_clear_pointer (&self->columns, g_strfreev);
  g_array_append_val (self->counts, self->n_rows);
  self->rows += self->n_rows;
  return good;
}

static gboolean
write_tables (TptJobExport *self, const char *folder, GError **error)
{
  self->discretion = tpt_export_discretion_new (self->store, self->exact, error);
  if (self->discretion == NULL)
    return FALSE;
  for (guint i = 0; i < TPT_N_TABLES; i++)
    {
      const TptTable *table = tpt_table_get (i);

      tpt_job_report (TPT_JOB (self), (double) i / TPT_N_TABLES, table->name);
      if (!write_table (self, folder, table, error))
        return FALSE;
    }
  return TRUE;
}

/* A folder beside the final one, in which the tables are made. */
static char *
make_beside (TptJobExport *self, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (self->out);
  g_autofree char *template = g_build_filename (parent, ".tapetum-export-XXXXXX", NULL);

  if (!tpt_fault_point ("mkdir", error))
    return NULL;
  if (g_mkdtemp_full (template, 0777) != NULL)
    return g_steal_pointer (&template);
  fail (error, _("A folder beside %s cannot be made"), self->out, errno);
  return NULL;
}

static void
remove_beside (const char *folder)
{
  GDir *dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_unlink (path);
    }
  g_clear_pointer (&dir, g_dir_close);
  g_rmdir (folder);
}

/* A folder takes the place of an empty one, or of none, in one step. */
static gboolean
move_into_place (TptJobExport *self, const char *folder, GError **error)
{
  if (!tpt_fault_point ("rename", error))
    return FALSE;
  if (g_rename (folder, self->out) == 0)
    return TRUE;
  if (errno != ENOTEMPTY && errno != EEXIST && errno != ENOTDIR)
    return fail (error, _("The folder %s cannot be made"), self->out, errno);
  g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("“%s” is there already and is no empty folder. Nothing was written; choose another name."),
               self->out);
  return FALSE;
}

static gboolean
write_folder (TptJobExport *self, GError **error)
{
  g_autofree char *folder = make_beside (self, error);
  gboolean good;

  if (folder == NULL)
    return FALSE;
  good = tpt_store_hold (self->store, error);
  if (good)
    {
      good = write_tables (self, folder, error);
      tpt_store_release (self->store);
    }
  good = good && move_into_place (self, folder, error);
  if (!good)
    remove_beside (folder);
  return good;
}

static gboolean
tpt_job_export_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobExport *self = TPT_JOB_EXPORT (job);
  gboolean good;

  self->store = store;
  self->cancellable = cancellable;
  good = write_folder (self, error);
  self->store = NULL;
  self->cancellable = NULL;
  g_clear_pointer (&self->discretion, tpt_export_discretion_free);
  if (good)
    tpt_job_report (job, 1, _("Done"));
  return good;
}

static void
tpt_job_export_dispose (GObject *object)
{
  TptJobExport *self = TPT_JOB_EXPORT (object);

  g_assert (self->store == NULL && self->discretion == NULL && self->writer == NULL);
  g_clear_pointer (&self->out, g_free);
  g_clear_pointer (&self->files, g_ptr_array_unref);
  g_clear_pointer (&self->counts, g_array_unref);

  G_OBJECT_CLASS (tpt_job_export_parent_class)->dispose (object);
}

static void
tpt_job_export_class_init (TptJobExportClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_export_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_export_run;
  TPT_JOB_CLASS (klass)->lengthy = TRUE;
}

static void
tpt_job_export_init (TptJobExport *self)
{
  self->files = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->files, NULL);
  self->counts = g_array_new (FALSE, FALSE, sizeof (gint64));
}

TptJobExport *
tpt_job_export_new (const char *format, const char *out, gboolean exact)
{
  TptJobExport *self = g_object_new (TPT_TYPE_JOB_EXPORT, NULL);

  g_return_val_if_fail (tpt_job_export_knows (format), self);

  self->out = g_canonicalize_filename (out, NULL);
  self->exact = exact;
  return self;
}

gint64
tpt_job_export_get_rows (TptJobExport *self)
{
  return self->rows;
}

gint64
tpt_job_export_get_generalised (TptJobExport *self)
{
  return self->generalised;
}

gint64
tpt_job_export_get_people (TptJobExport *self)
{
  return self->people;
}

const char *const *
tpt_job_export_get_files (TptJobExport *self)
{
  return (const char *const *) self->files->pdata;
}

gint64
tpt_job_export_get_rows_of (TptJobExport *self, guint file)
{
  return g_array_index (self->counts, gint64, file);
}
