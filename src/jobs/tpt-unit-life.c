#include "config.h"

#include "tpt-unit-life-private.h"

#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-log-private.h"
#include "tpt-records.h"

static void
free_event (gpointer data)
{
  TptUnitEvent *event = data;

  g_clear_object (&event->record);
  g_free (event->station);
  g_free (event->place);
  g_free (event->other);
  g_free (event);
}

void
tpt_unit_life_free (TptUnitLife *self)
{
  g_clear_object (&self->unit);
  g_clear_pointer (&self->fittings, g_ptr_array_unref);
  g_clear_pointer (&self->readings, g_ptr_array_unref);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  g_free (self);
}

static int
compare_events_cb (gconstpointer a, gconstpointer b)
{
  const TptUnitEvent *x = *(TptUnitEvent *const *) a, *y = *(TptUnitEvent *const *) b;

  return (x->at > y->at) - (x->at < y->at);
}

static TptUnitEvent *
add_event (GPtrArray *events, TptRecord *record, TptInstant at)
{
  TptUnitEvent *event = g_new0 (TptUnitEvent, 1);

  event->record = g_object_ref (record);
  event->at = at;
  event->to = TPT_NO_INSTANT;
  g_ptr_array_add (events, event);
  return event;
}

/* What refers to a row that is not there cannot be: the file is damaged. */
static TptRecord *
find_needed (TptStore *store, TptTableId table, const char *code, GError **error)
{
  GError *failure = NULL;
  TptRecord *record = tpt_store_find (store, table, code, &failure);

  if (record == NULL && failure == NULL)
    g_set_error (&failure, TPT_ERROR, TPT_ERROR_DATA, _("there is no %s “%s” in this project"),
                 _(tpt_table_get (table)->singular), code);
  if (failure != NULL)
    g_propagate_error (error, failure);
  return record;
}

static gboolean
name_place (TptStore *store, TptUnitEvent *event, const char *station, GError **error)
{
  g_autoptr (TptRecord) record = find_needed (store, TPT_TABLE_STATIONS, station, error);
  const char *name;

  if (record == NULL)
    return FALSE;
  name = tpt_record_get_text (record, "name");
  event->station = g_strdup (station);
  event->place = g_strdup (name != NULL ? name : station);
  return TRUE;
}

static gboolean
name_other (TptStore *store, TptUnitEvent *event, const char *unit, GError **error)
{
  g_autoptr (TptRecord) record = find_needed (store, TPT_TABLE_UNITS, unit, error);

  if (record == NULL)
    return FALSE;
  g_free (event->other);
  event->other = tpt_log_name_unit (record);
  return TRUE;
}

static gboolean
read_fittings (TptUnitLife *self, TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (GPtrArray) rows =
    tpt_store_list (store, TPT_TABLE_FITTINGS, "unit", tpt_record_get_code (self->unit), error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      TptInstant from = tpt_record_get_instant (rows->pdata[i], "from"), to = tpt_record_get_instant (rows->pdata[i], "to");
      g_autoptr (TptRecord) deployment = NULL;
      TptUnitEvent *event;

      if (from > on)
        continue;
      deployment = find_needed (store, TPT_TABLE_DEPLOYMENTS, tpt_record_get_text (rows->pdata[i], "deployment"), error);
      if (deployment == NULL)
        return FALSE;
      event = add_event (self->fittings, rows->pdata[i], from);
      event->to = to != TPT_NO_INSTANT && to <= on ? to : TPT_NO_INSTANT;
      if (!name_place (store, event, tpt_record_get_text (deployment, "station"), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_readings (TptUnitLife *self, TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (GPtrArray) rows =
    tpt_store_list (store, TPT_TABLE_READINGS, "unit", tpt_record_get_code (self->unit), error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr (TptRecord) visit =
        find_needed (store, TPT_TABLE_VISITS, tpt_record_get_text (rows->pdata[i], "visit"), error);
      const char *other = tpt_record_get_text (rows->pdata[i], "replacement");
      TptUnitEvent *event;

      if (visit == NULL)
        return FALSE;
      if (tpt_record_get_instant (visit, "at") > on)
        continue;
      event = add_event (self->readings, rows->pdata[i], tpt_record_get_instant (visit, "at"));
      if (!name_place (store, event, tpt_record_get_text (visit, "station"), error) ||
          (other != NULL && !name_other (store, event, other, error)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_entries (TptUnitLife *self, TptStore *store, TptInstant on, GError **error)
{
  g_autoptr (GPtrArray) rows =
    tpt_store_list (store, TPT_TABLE_UNIT_LOG, "unit", tpt_record_get_code (self->unit), error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    if (tpt_record_get_instant (rows->pdata[i], "at") <= on)
      add_event (self->entries, rows->pdata[i], tpt_record_get_instant (rows->pdata[i], "at"));
  return TRUE;
}

/* The fitting that began when another unit was swapped for this one. */
static gboolean
note_replaced (TptUnitLife *self, TptStore *store, TptRecord *reading, GError **error)
{
  g_autoptr (TptRecord) visit = find_needed (store, TPT_TABLE_VISITS, tpt_record_get_text (reading, "visit"), error);

  if (visit == NULL)
    return FALSE;
  for (guint i = 0; i < self->fittings->len; i++)
    {
      TptUnitEvent *fitting = self->fittings->pdata[i];

      if (fitting->at == tpt_record_get_instant (visit, "at") &&
          !name_other (store, fitting, tpt_record_get_text (reading, "unit"), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_replaced (TptUnitLife *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) rows =
    tpt_store_list (store, TPT_TABLE_READINGS, "replacement", tpt_record_get_code (self->unit), error);

  if (rows == NULL)
    return FALSE;
  for (guint i = 0; i < rows->len; i++)
    if (!note_replaced (self, store, rows->pdata[i], error))
      return FALSE;
  return TRUE;
}

TptUnitLife *
tpt_unit_life_read (TptStore *store, const char *unit, TptInstant on, GError **error)
{
  g_autoptr (TptUnitLife) self = g_new0 (TptUnitLife, 1);

  self->fittings = g_ptr_array_new_with_free_func (free_event);
  self->readings = g_ptr_array_new_with_free_func (free_event);
  self->entries = g_ptr_array_new_with_free_func (free_event);
  self->unit = find_needed (store, TPT_TABLE_UNITS, unit, error);
  if (self->unit == NULL || !read_fittings (self, store, on, error) || !read_readings (self, store, on, error) ||
      !read_entries (self, store, on, error) || !read_replaced (self, store, error))
    return NULL;
  g_ptr_array_sort (self->fittings, compare_events_cb);
  g_ptr_array_sort (self->readings, compare_events_cb);
  g_ptr_array_sort (self->entries, compare_events_cb);
  return g_steal_pointer (&self);
}
