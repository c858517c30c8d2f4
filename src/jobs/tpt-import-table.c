#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-frames.h"
#include "tpt-import-private.h"
#include "tpt-records.h"

typedef struct {
  TptStore *store;
  TptCsvReader *reader;
  const TptTable *table;
  const char *file;
  GPtrArray *columns;  /* (owned) (element-type utf8): those of the file that are taken */
  GHashTable *seen;    /* (owned) (element-type utf8): keys met in this file */
  TptFrameRows *frames; /* (owned) */
  TptImportCounts *counts;
  GPtrArray *refusals;
} Import;

static gboolean
is_language_column (const TptTable *table, const char *name)
{
  const char *language = name + strlen ("common_");

  return table->id == TPT_TABLE_SPECIES && g_str_has_prefix (name, "common_") && strlen (language) >= 2 &&
         strlen (language) <= 8;
}

/* The columns to take; %FALSE when one is unknown and that matters. */
static gboolean
choose_columns (Import *self, gboolean lenient)
{
  const char *const *names = tpt_csv_reader_get_columns (self->reader);
  gboolean good = TRUE;

  for (guint i = 0; names[i] != NULL; i++)
    {
      if (tpt_table_find (self->table, names[i]) >= 0 || is_language_column (self->table, names[i]))
        g_ptr_array_add (self->columns, g_strdup (names[i]));
      else if (!lenient)
        {
          g_autofree char *reason = g_strdup_printf (_("the table of %s has no column “%s”"), self->table->name, names[i]);
          tpt_refusals_add (self->refusals, self->file, 1, names[i], reason);
          good = FALSE;
        }
    }
  g_ptr_array_add (self->columns, NULL);
  return good;
}

/* Every cell that cannot be taken is named, not only the first. */
static TptRecord *
read_record (Import *self)
{
  g_autoptr (TptRecord) record = tpt_record_new (self->table->id);
  TptZone *zone = tpt_store_get_zone (self->store);
  gboolean good = TRUE;

  for (guint i = 0; i + 1 < self->columns->len; i++)
    {
      const char *column = self->columns->pdata[i];
      const char *cell = tpt_csv_reader_get (self->reader, column);
      g_autoptr (GError) fault = NULL;

      if (is_language_column (self->table, column))
        tpt_record_set_name (record, column + strlen ("common_"), cell);
      else if (!tpt_record_set_from_string (record, column, cell, zone, &fault))
        {
          tpt_csv_reader_refuse (self->reader, column, fault->message);
          good = FALSE;
        }
    }
  return good ? g_steal_pointer (&record) : NULL;
}

static gboolean
meet_key (Import *self, TptRecord *record)
{
  g_autoptr (GString) key = g_string_new (NULL);

  for (guint i = 0; i < self->table->n_key; i++)
    {
      g_autofree char *part = tpt_record_to_string (record, self->table->columns[i].name, NULL);
      g_string_append_printf (key, "%s\x1f", part != NULL ? part : "");
    }
  if (g_hash_table_add (self->seen, g_strdup (key->str)))
    return TRUE;
  tpt_csv_reader_refuse (self->reader, self->table->columns[0].name, _("this row is in the file already"));
  return FALSE;
}

/* A fault of the data is a refusal, anything else ends the import. */
static gboolean
settle_row (Import *self, GError *failure, const char *column, GError **error)
{
  if (g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
    {
      tpt_csv_reader_refuse (self->reader, column, failure->message);
      g_error_free (failure);
      return TRUE;
    }
  g_propagate_error (error, failure);
  return FALSE;
}

static gboolean
take_frame (Import *self, TptRecord *record, TptRecord *old, GError **error)
{
  g_autoptr (TptRecord) deployment = NULL;
  const char *column = NULL;
  GError *failure = NULL;

  if (old != NULL)
    {
      if (tpt_record_equal (old, record))
        self->counts->unchanged++;
      else
        tpt_csv_reader_refuse (self->reader, "frame", _("this frame is on record with other values; frames are never changed"));
      return TRUE;
    }
  if (!tpt_record_check (record, &column, &failure))
    return settle_row (self, failure, column, error);
  deployment = tpt_store_find (self->store, TPT_TABLE_DEPLOYMENTS, tpt_record_get_text (record, "deployment"), &failure);
  if (failure != NULL)
    return settle_row (self, failure, NULL, error);
  if (deployment == NULL)
    {
      tpt_csv_reader_refuse (self->reader, "deployment", _("there is no such deployment in this project"));
      return TRUE;
    }
  tpt_frame_rows_add (self->frames, record);
  self->counts->added++;
  return TRUE;
}

static gboolean
save_row (Import *self, TptRecord *record, GError **error)
{
  const char *column = NULL;
  GError *failure = NULL;
  TptSaved saved;

  if (!tpt_store_save (self->store, record, &saved, &column, &failure))
    return settle_row (self, failure, column, error);
  if (self->table->id == TPT_TABLE_OBSERVATIONS && saved == TPT_SAVED_UPDATED &&
      !tpt_store_unlink_stray (self->store, tpt_record_get_id (record), error))
    return FALSE;
  self->counts->added += saved == TPT_SAVED_ADDED;
  self->counts->updated += saved == TPT_SAVED_UPDATED;
  self->counts->unchanged += saved == TPT_SAVED_UNCHANGED;
  return TRUE;
}

static gboolean
take_row (Import *self, GError **error)
{
  g_autoptr (TptRecord) record = read_record (self);
  g_autoptr (TptRecord) old = NULL;
  GError *failure = NULL;

  if (record == NULL || !meet_key (self, record))
    return TRUE;
  old = tpt_store_find_like (self->store, record, &failure);
  if (failure != NULL)
    return settle_row (self, failure, NULL, error);
  if (old != NULL)
    {
      g_autoptr (TptRecord) merged = tpt_record_copy (old);

      tpt_record_overlay (merged, record, (const char *const *) self->columns->pdata);
      g_set_object (&record, merged);
    }
  if (self->table->id == TPT_TABLE_FRAMES)
    return take_frame (self, record, old, error);
  return save_row (self, record, error);
}

/* A table of observations says when, and of which deployment, but not of which trigger. */
static gboolean
link_observations (Import *self, GError **error)
{
  return self->table->id != TPT_TABLE_OBSERVATIONS || self->counts->added + self->counts->updated == 0 ||
         tpt_store_link_observations (self->store, 0, error);
}

static gboolean
take_rows (Import *self, GCancellable *cancellable, GError **error)
{
  const TptCsvRow *row;
  GError *failure = NULL;

  while (tpt_csv_reader_next (self->reader, &row, &failure))
    if (g_cancellable_set_error_if_cancelled (cancellable, error) || !take_row (self, error))
      return FALSE;
  if (failure != NULL && !g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  g_clear_error (&failure); /* a fault of content is among the refusals */
  return tpt_refusals_count_lost (self->refusals) > 0 ||
         (tpt_frame_rows_write (self->frames, self->store, error) && link_observations (self, error));
}

gboolean
tpt_import_table (TptStore *store, const char *path, gboolean lenient, TptImportCounts *counts, GPtrArray *refusals,
                  GCancellable *cancellable, GError **error)
{
  g_autoptr (GError) failure = NULL;
  g_autofree char *file = g_path_get_basename (path);
  g_autoptr (TptCsvReader) reader = tpt_csv_reader_open (path, refusals, &failure);
  g_autoptr (GPtrArray) columns = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (TptFrameRows) frames = tpt_frame_rows_new ();
  Import self = { store, reader, NULL, file, columns, seen, frames, counts, refusals };

  if (reader == NULL)
    {
      if (g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
        return TRUE;
      g_propagate_error (error, g_steal_pointer (&failure));
      return FALSE;
    }
  if (tpt_import_is_sheet (tpt_csv_reader_get_columns (reader)))
    return tpt_import_sheet (store, reader, file, lenient, counts, refusals, cancellable, error);
  self.table = tpt_table_recognise (tpt_csv_reader_get_columns (reader));
  if (self.table == NULL)
    {
      tpt_refusals_add (refusals, file, 1, NULL, _("this header is that of none of the tables; see “tapetum help import”"));
      return TRUE;
    }
  if (!choose_columns (&self, lenient))
    return TRUE;
  return take_rows (&self, cancellable, error);
}

int
tpt_import_recognise (const char *path)
{
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
  g_autoptr (TptCsvReader) reader = tpt_csv_reader_open (path, refusals, NULL);
  const TptTable *table = reader != NULL ? tpt_table_recognise (tpt_csv_reader_get_columns (reader)) : NULL;

  if (reader != NULL && tpt_import_is_sheet (tpt_csv_reader_get_columns (reader)))
    return TPT_TABLE_READINGS;
  return table != NULL ? (int) table->id : -1;
}
