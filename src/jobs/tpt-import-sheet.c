#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-codes-private.h"
#include "tpt-error.h"
#include "tpt-import-private.h"
#include "tpt-records.h"
#include "tpt-visit-private.h"

/* A field sheet: one row per unit, the rows of one visit repeat station and
 * moment. A cell goes to the visit, to the unit's reading, or is there for the
 * reader of the paper only. */
static const char *const visit_columns[] = { "people", "found", "camera_clock", "true_clock", "frames_on_card", "left", NULL };
static const char *const reading_columns[] = { "state", "volts", "percent", "action", "replacement", "notes", NULL };
static const char *const other_columns[] = { "station", "at", "unit", "cause", "visit_notes", "label", "kind", NULL };

/* One visit of the file, gathered from its rows. */
typedef struct {
  TptRecord *visit;  /* (owned) */
  GPtrArray *lines;  /* (owned) (element-type TptVisitLine) */
  GArray *rows;      /* (element-type gint64): the line of the file of each of @lines */
  gint64 first_row;
} SheetVisit;

typedef struct {
  TptStore *store;
  TptCsvReader *reader;
  const char *file;
  GPtrArray *visits;  /* (owned) (element-type SheetVisit) */
  GHashTable *by_key; /* (element-type utf8 SheetVisit) */
  gint64 blank_row;   /* the first row without a moment and with nothing said; 0 for none */
  TptImportCounts *counts;
  GPtrArray *refusals;
} Sheet;

static void
free_visit (gpointer data)
{
  SheetVisit *self = data;

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
check_columns (Sheet *self, gboolean lenient)
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
get_cell (Sheet *self, const char *column)
{
  const char *cell = tpt_csv_reader_get (self->reader, column);

  return g_strstrip (g_strdup (cell != NULL ? cell : ""));
}

static gboolean
is_filled (Sheet *self, const char *column)
{
  g_autofree char *cell = get_cell (self, column);

  return *cell != '\0';
}

static gboolean
is_any_filled (Sheet *self, const char *const *columns)
{
  for (guint i = 0; columns[i] != NULL; i++)
    if (is_filled (self, columns[i]))
      return TRUE;
  return FALSE;
}

static gboolean
take_cell (Sheet *self, TptRecord *record, const char *column, const char *cell_column)
{
  g_autofree char *cell = get_cell (self, cell_column);
  g_autoptr (GError) fault = NULL;

  if (*cell == '\0' || tpt_record_set_from_string (record, column, cell, tpt_store_get_zone (self->store), &fault))
    return TRUE;
  tpt_csv_reader_refuse (self->reader, cell_column, fault->message);
  return FALSE;
}

static SheetVisit *
add_visit (Sheet *self, const char *key, TptRecord *visit, gint64 row)
{
  SheetVisit *own = g_new0 (SheetVisit, 1);

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
join_visit (Sheet *self, SheetVisit *own, TptRecord *visit)
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

static SheetVisit *
take_visit (Sheet *self, gint64 row)
{
  g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
  g_autofree char *key = NULL;
  SheetVisit *own;
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
take_line (Sheet *self, SheetVisit *own, gint64 row)
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
take_row (Sheet *self, gint64 row)
{
  gboolean said = is_any_filled (self, visit_columns) || is_any_filled (self, reading_columns) || is_filled (self, "cause") ||
                  is_filled (self, "visit_notes");
  SheetVisit *own;

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
read_rows (Sheet *self, GCancellable *cancellable, GError **error)
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

/* (transfer full) (nullable): the visit on record to that station at that moment. */
static TptRecord *
find_recorded (Sheet *self, TptRecord *visit, GError **error)
{
  g_autoptr (GPtrArray) visits =
    tpt_store_list (self->store, TPT_TABLE_VISITS, "station", tpt_record_get_text (visit, "station"), error);

  for (guint i = 0; visits != NULL && i < visits->len; i++)
    if (tpt_record_get_instant (visits->pdata[i], "at") == tpt_record_get_instant (visit, "at"))
      return g_object_ref (visits->pdata[i]);
  return NULL;
}

/* (nullable): the first column in which @told says something that @kept does not. */
static const char *
find_difference (TptRecord *told, TptRecord *kept)
{
  const TptTable *table = tpt_record_get_table (told);

  for (guint i = 0; i < table->n_columns; i++)
    {
      const char *name = table->columns[i].name;
      g_autofree char *wanted = tpt_record_to_string (told, name, NULL), *got = tpt_record_to_string (kept, name, NULL);

      if (wanted != NULL && g_strcmp0 (wanted, got) != 0)
        return name;
    }
  return NULL;
}

static void
refuse (Sheet *self, gint64 row, const char *column, const char *reason)
{
  tpt_refusals_add (self->refusals, self->file, row, column, reason);
}

static const char *
name_visit_column (const char *column)
{
  return g_strcmp0 (column, "notes") == 0 ? "visit_notes" : column;
}

static gboolean
has_entry (Sheet *self, const TptVisitLine *line, TptInstant at, gboolean *there, GError **error)
{
  g_autoptr (GPtrArray) entries =
    tpt_store_list (self->store, TPT_TABLE_UNIT_LOG, "unit", tpt_record_get_text (line->reading, "unit"), error);

  *there = FALSE;
  for (guint i = 0; entries != NULL && i < entries->len; i++)
    *there |= tpt_record_get_instant (entries->pdata[i], "at") == at &&
              g_strcmp0 (tpt_record_get_text (entries->pdata[i], "cause"), line->cause) == 0;
  return entries != NULL;
}

/* One row against a visit that is on record: the same, or refused. */
static gboolean
compare_line (Sheet *self, const TptVisitLine *line, TptRecord *visit, gint64 row, GError **error)
{
  g_autoptr (TptRecord) told = tpt_record_copy (line->reading), kept = NULL;
  GError *failure = NULL;
  gboolean there = TRUE;
  const char *column;

  if (g_strcmp0 (tpt_record_get_text (told, "replacement"), tpt_record_get_text (told, "unit")) == 0)
    tpt_record_set_text (told, "replacement", NULL);
  tpt_record_set_text (told, "visit", tpt_record_get_code (visit));
  if (line->cause != NULL && !has_entry (self, line, tpt_record_get_instant (visit, "at"), &there, error))
    return FALSE;
  kept = tpt_store_find_like (self->store, told, &failure);
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  column = kept != NULL ? find_difference (told, kept) : NULL;
  if (!there)
    refuse (self, row, "cause", _("this visit is on record without this cause; change it in the unit’s log"));
  else if (kept == NULL && line->cause == NULL)
    refuse (self, row, "unit", _("this visit is on record without a word on this unit"));
  else if (column != NULL)
    refuse (self, row, column, _("this visit is on record already and says something else here"));
  else
    self->counts->unchanged++;
  return TRUE;
}

static gboolean
compare_visit (Sheet *self, SheetVisit *own, TptRecord *recorded, GError **error)
{
  const char *column = find_difference (own->visit, recorded);

  if (column != NULL)
    refuse (self, own->first_row, name_visit_column (column), _("this visit is on record already and says something else here"));
  else
    self->counts->unchanged++;
  for (guint i = 0; i < own->lines->len; i++)
    if (!compare_line (self, own->lines->pdata[i], recorded, g_array_index (own->rows, gint64, i), error))
      return FALSE;
  return TRUE;
}

static void
refuse_faults (Sheet *self, SheetVisit *own, GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    {
      const TptVisitFault *fault = faults->pdata[i];
      gint64 row = fault->line >= 0 ? g_array_index (own->rows, gint64, fault->line) : own->first_row;

      refuse (self, row, fault->line >= 0 ? fault->column : name_visit_column (fault->column), fault->reason);
    }
}

/* Belonging as for an edit: a reading to the visit saved before it. */
static gboolean
save_record (Sheet *self, TptRecord *record, const char *visit, GError **error)
{
  TptSaved saved;

  if (tpt_record_get_table (record)->id == TPT_TABLE_READINGS)
    tpt_record_set_text (record, "visit", visit);
  if (tpt_record_get_table (record)->id == TPT_TABLE_UNIT_LOG && !tpt_codes_give (self->store, record, error))
    return FALSE;
  if (!tpt_store_save (self->store, record, &saved, NULL, error))
    return FALSE;
  self->counts->added += saved == TPT_SAVED_ADDED;
  self->counts->updated += saved == TPT_SAVED_UPDATED;
  return TRUE;
}

static gboolean
save_plan (Sheet *self, SheetVisit *own, TptVisitPlan *plan, GError **error)
{
  GPtrArray *records = tpt_visit_plan_get_records (plan), *warnings = tpt_visit_plan_get_warnings (plan);

  if (!tpt_codes_give (self->store, records->pdata[0], error))
    return FALSE;
  for (guint i = 0; i < records->len; i++)
    {
      GError *failure = NULL;

      if (save_record (self, records->pdata[i], tpt_record_get_code (records->pdata[0]), &failure))
        continue;
      if (!g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
        {
          g_propagate_error (error, failure);
          return FALSE;
        }
      refuse (self, own->first_row, NULL, failure->message);
      g_error_free (failure);
      return TRUE;
    }
  for (guint i = 0; i < warnings->len; i++)
    tpt_refusals_add_kept (self->refusals, self->file, own->first_row, NULL, warnings->pdata[i]);
  return TRUE;
}

static gboolean
take_plan (Sheet *self, SheetVisit *own, GError **error)
{
  GError *failure = NULL;
  g_autoptr (TptVisitFacts) facts = tpt_visit_facts_read (self->store, tpt_record_get_text (own->visit, "station"),
                                                          tpt_record_get_instant (own->visit, "at"), &failure);
  g_autoptr (TptVisitPlan) plan = NULL;

  if (g_error_matches (failure, TPT_ERROR, TPT_ERROR_DATA))
    {
      refuse (self, own->first_row, "station", failure->message);
      g_error_free (failure);
      return TRUE;
    }
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (!tpt_visit_facts_add_lines (facts, self->store, own->lines, error))
    return FALSE;
  plan = tpt_visit_plan_new (facts, own->visit, own->lines, FALSE);
  if (tpt_visit_plan_get_faults (plan)->len == 0)
    return save_plan (self, own, plan, error);
  refuse_faults (self, own, tpt_visit_plan_get_faults (plan));
  return TRUE;
}

static int
compare_visits_cb (gconstpointer a, gconstpointer b)
{
  TptInstant x = tpt_record_get_instant ((*(SheetVisit *const *) a)->visit, "at");
  TptInstant y = tpt_record_get_instant ((*(SheetVisit *const *) b)->visit, "at");

  return (x > y) - (x < y);
}

/* In order of time: what one visit moved, the next one finds moved. */
static gboolean
save_visits (Sheet *self, GCancellable *cancellable, GError **error)
{
  g_ptr_array_sort (self->visits, compare_visits_cb);
  for (guint i = 0; i < self->visits->len; i++)
    {
      SheetVisit *own = self->visits->pdata[i];
      g_autoptr (TptRecord) recorded = NULL;
      GError *failure = NULL;

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      recorded = find_recorded (self, own->visit, &failure);
      if (failure != NULL)
        {
          g_propagate_error (error, failure);
          return FALSE;
        }
      if (!(recorded != NULL ? compare_visit (self, own, recorded, error) : take_plan (self, own, error)))
        return FALSE;
    }
  return TRUE;
}

gboolean
tpt_import_sheet (TptStore *store, TptCsvReader *reader, const char *file, gboolean lenient, TptImportCounts *counts,
                  GPtrArray *refusals, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) visits = g_ptr_array_new_with_free_func (free_visit);
  g_autoptr (GHashTable) by_key = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  Sheet self = { store, reader, file, visits, by_key, 0, counts, refusals };

  if (!check_columns (&self, lenient))
    return TRUE;
  if (!read_rows (&self, cancellable, error))
    return FALSE;
  if (self.blank_row != 0)
    tpt_refusals_add_kept (refusals, file, self.blank_row, "at", _("rows that are not filled in yet were passed over"));
  return tpt_refusals_count_lost (refusals) > 0 || save_visits (&self, cancellable, error);
}
