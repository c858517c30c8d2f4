#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-error.h"
#include "tpt-import-sheet-private.h"

/* A field sheet: one row per unit, the rows of one visit repeat station and
 * moment. A cell goes to the visit, to the unit's reading, or is there for the
 * reader of the paper only. */
static const char *const visit_columns[] = { "people", "found", "camera_clock", "true_clock", "frames_on_card", "left", NULL };
static const char *const reading_columns[] = { "state", "volts", "percent", "action", "replacement", "notes", NULL };
static const char *const other_columns[] = { "station", "at", "unit", "cause", "visit_notes", "label", "kind", NULL };

static void
free_visit (gpointer data)
{
  TptFilledVisit *self = data;

  g_object_unref (self->visit);
  g_ptr_array_unref (self->lines);
  g_array_unref (self->rows);
  g_free (self);
}

gboolean
tpt_import_is_sheet (const char *const *names)
{
  return g_strv_contains (names, "station") && g_strv_contains (names, "at") && g_strv_contains (names, "unit") &&
         !g_strv_contains (names, "visit") && !g_strv_contains (names, "entry");
}

static gboolean
check_columns (TptFilledSheet *self, gboolean lenient)
{
  const char *const *names = tpt_csv_reader_get_columns (self->reader);
  gboolean good = TRUE;

  for (guint i = 0; names[i] != NULL && !lenient; i++)
    if (!g_strv_contains (visit_columns, names[i]) && !g_strv_contains (reading_columns, names[i]) &&
        !g_strv_contains (other_columns, names[i]))
      {
        g_autofree char *reason = g_strdup_printf (_("a field sheet has no column “%s”"), names[i]);

        tpt_refusals_add (self->refusals, self->file, 1, names[i], reason);
        good = FALSE;
      }
  return good;
}

/* (transfer full): without the blanks around it; "" without such a column. */
static char *
get_cell (TptFilledSheet *self, const char *column)
{
  const char *cell = tpt_csv_reader_get (self->reader, column);

  return g_strstrip (g_strdup (cell != NULL ? cell : ""));
}

static gboolean
is_filled (TptFilledSheet *self, const char *column)
{
  g_autofree char *cell = get_cell (self, column);

  return *cell != '\0';
}

static gboolean
is_any_filled (TptFilledSheet *self, const char *const *columns)
{
  for (guint i = 0; columns[i] != NULL; i++)
    if (is_filled (self, columns[i]))
      return TRUE;
  return FALSE;
}

static gboolean
take_cell (TptFilledSheet *self, TptRecord *record, const char *column, const char *cell_column)
{
  g_autofree char *cell = get_cell (self, cell_column);
  g_autoptr (GError) fault = NULL;

  if (*cell == '\0' || tpt_record_set_from_string (record, column, cell, tpt_store_get_zone (self->store), &fault))
    return TRUE;
  tpt_csv_reader_refuse (self->reader, cell_column, fault->message);
  return FALSE;
}

static TptFilledVisit *
add_visit (TptFilledSheet *self, const char *key, TptRecord *visit, gint64 row)
{
  TptFilledVisit *own = g_new0 (TptFilledVisit, 1);

  own->visit = g_object_ref (visit);
  own->lines = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_visit_line_free);
  own->rows = g_array_new (FALSE, FALSE, sizeof (gint64));
  own->first_row = row;
  g_ptr_array_add (self->visits, own);
  g_hash_table_insert (self->by_key, g_strdup (key), own);
  return own;
}

/* A second row may repeat what the first one said of the visit, or be silent. */
static void
join_visit (TptFilledSheet *self, TptFilledVisit *own, TptRecord *visit)
{
  static const char *const columns[] = { "people", "found", "camera_clock", "true_clock", "frames_on_card", "left", "notes", NULL };

  for (guint i = 0; columns[i] != NULL; i++)
    {
      const char *const one[] = { columns[i], NULL };
      g_autofree char *before = tpt_record_to_string (own->visit, columns[i], NULL);
      g_autofree char *now = tpt_record_to_string (visit, columns[i], NULL);

      if (now == NULL)
        continue;
      if (before == NULL)
        tpt_record_overlay (own->visit, visit, one);
      else if (!g_str_equal (before, now))
        tpt_csv_reader_refuse (self->reader, g_str_equal (columns[i], "notes") ? "visit_notes" : columns[i],
                               _("an earlier row says something else about the same visit"));
    }
}

static TptFilledVisit *
take_visit (TptFilledSheet *self, gint64 row)
{
  g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
  g_autofree char *key = NULL;
  TptFilledVisit *own;
  gboolean good = take_cell (self, visit, "station", "station") & take_cell (self, visit, "at", "at") &
                  take_cell (self, visit, "notes", "visit_notes");

  for (guint i = 0; visit_columns[i] != NULL; i++)
    good &= take_cell (self, visit, visit_columns[i], visit_columns[i]);
  if (!good)
    return NULL;
  if (!tpt_record_is_set (visit, "station"))
    {
      tpt_csv_reader_refuse (self->reader, "station", _("this is needed and is empty"));
      return NULL;
    }
  key = g_strdup_printf ("%s\x1f%" G_GINT64_FORMAT, tpt_record_get_text (visit, "station"), tpt_record_get_instant (visit, "at"));
  own = g_hash_table_lookup (self->by_key, key);
  if (own == NULL)
    return add_visit (self, key, visit, row);
  join_visit (self, own, visit);
  return own;
}

/* A unit that nothing is said about was not looked at. */
static void
take_line (TptFilledSheet *self, TptFilledVisit *own, gint64 row)
{
  g_autoptr (TptRecord) reading = tpt_record_new (TPT_TABLE_READINGS);
  g_autofree char *cause = get_cell (self, "cause");
  gboolean good;

  if (!is_any_filled (self, reading_columns) && *cause == '\0')
    return;
  good = take_cell (self, reading, "unit", "unit");
  for (guint i = 0; reading_columns[i] != NULL; i++)
    good &= take_cell (self, reading, reading_columns[i], reading_columns[i]);
  if (!good)
    return;
  g_ptr_array_add (own->lines, tpt_visit_line_new (reading, cause));
  g_array_append_val (own->rows, row);
}

static void
take_row (TptFilledSheet *self, gint64 row)
{
  gboolean said = is_any_filled (self, visit_columns) || is_any_filled (self, reading_columns) || is_filled (self, "cause") ||
                  is_filled (self, "visit_notes");
  TptFilledVisit *own;

  if (!is_filled (self, "at"))
    {
      if (said)
        tpt_csv_reader_refuse (self->reader, "at", _("when this visit was is needed and is empty"));
      else if (self->blank_row == 0)
        self->blank_row = row;
      return;
    }
  own = take_visit (self, row);
  if (own != NULL)
    take_line (self, own, row);
}

static gboolean
read_rows (TptFilledSheet *self, GCancellable *cancellable, GError **error)
{
  const TptCsvRow *row;
  GError *failure = NULL;

  while (tpt_csv_reader_next (self->reader, &row, &failure))
    {
      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      take_row (self, row->line);
    }
  if (failure != NULL && !g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  g_clear_error (&failure); /* a fault of content is among the refusals */
  return TRUE;
}

gboolean
tpt_import_sheet (TptStore *store, TptCsvReader *reader, const char *file, gboolean lenient, TptImportCounts *counts,
                  GPtrArray *refusals, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) visits = g_ptr_array_new_with_free_func (free_visit);
  g_autoptr (GHashTable) by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  TptFilledSheet self = { store, reader, file, visits, by_key, 0, counts, refusals };

  if (!check_columns (&self, lenient))
    return TRUE;
  if (!read_rows (&self, cancellable, error))
    return FALSE;
  if (self.blank_row != 0)
    tpt_refusals_add_kept (refusals, file, self.blank_row, "at", _("rows that are not filled in yet were passed over"));
  return tpt_refusals_count_lost (refusals) > 0 || tpt_filled_sheet_save (&self, cancellable, error);
}
