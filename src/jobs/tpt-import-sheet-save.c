#include "config.h"

#include "tpt-import-sheet-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-codes-private.h"
#include "tpt-error.h"
#include "tpt-records.h"
#include "tpt-visit-private.h"

/* (transfer full) (nullable): the visit on record to that station at that moment. */
static TptRecord *
find_recorded (TptFilledSheet *self, TptRecord *visit, GError **error)
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
refuse (TptFilledSheet *self, gint64 row, const char *column, const char *reason)
{
  tpt_refusals_add (self->refusals, self->file, row, column, reason);
}

static const char *
name_visit_column (const char *column)
{
  return g_strcmp0 (column, "notes") == 0 ? "visit_notes" : column;
}

static gboolean
has_entry (TptFilledSheet *self, const TptVisitLine *line, TptInstant at, gboolean *there, GError **error)
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
compare_line (TptFilledSheet *self, const TptVisitLine *line, TptRecord *visit, gint64 row, GError **error)
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
compare_visit (TptFilledSheet *self, TptFilledVisit *own, TptRecord *recorded, GError **error)
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
refuse_faults (TptFilledSheet *self, TptFilledVisit *own, GPtrArray *faults)
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
save_record (TptFilledSheet *self, TptRecord *record, const char *visit, GError **error)
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
save_plan (TptFilledSheet *self, TptFilledVisit *own, TptVisitPlan *plan, GError **error)
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
take_plan (TptFilledSheet *self, TptFilledVisit *own, GError **error)
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
  TptInstant x = tpt_record_get_instant ((*(TptFilledVisit *const *) a)->visit, "at");
  TptInstant y = tpt_record_get_instant ((*(TptFilledVisit *const *) b)->visit, "at");

  return (x > y) - (x < y);
}

/* In order of time: what one visit moved, the next one finds moved. */
gboolean
tpt_filled_sheet_save (TptFilledSheet *self, GCancellable *cancellable, GError **error)
{
  g_ptr_array_sort (self->visits, compare_visits_cb);
  for (guint i = 0; i < self->visits->len; i++)
    {
      TptFilledVisit *own = self->visits->pdata[i];
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
