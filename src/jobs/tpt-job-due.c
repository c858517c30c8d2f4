#include "config.h"

#include "tpt-job-due.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-due-facts-private.h"
#include "tpt-job-due-private.h"
#include "tpt-packing-private.h"
#include "tpt-records.h"
#include "tpt-words.h"

/* Weeks between rounds where none is planned: common practice, no source. */
#define DEFAULT_ROUND_DAYS 28

struct _TptJobDue {
  TptJob parent_instance;

  /* Input arguments */
  TptInstant on;
  TptInstant until;
  GStrv only; /* (owned) (nullable): codes of stations */

  /* In-progress data */
  TptDueFacts *facts; /* (owned) */

  /* Results */
  GListStore *stations; /* (owned) */
  TptZone *zone;        /* (owned) */
  double threshold;
  TptPackShelf *shelf;  /* (owned) */
  TptPacking *packing;  /* (owned) */
  char *summary;        /* (owned) */
  char *bring;          /* (owned) */
  TptRange axis;
};

G_DEFINE_FINAL_TYPE (TptJobDue, tpt_job_due, TPT_TYPE_JOB)

static void
choose_moments (TptJobDue *self, TptStore *store)
{
  g_autofree char *planned = tpt_store_get_setting (store, "round_at");

  if (self->on == TPT_NO_INSTANT)
    self->on = tpt_store_get_now (store);
  if (self->until == TPT_NO_INSTANT && planned != NULL)
    self->until = tpt_instant_parse (planned, tpt_store_get_zone (store), NULL);
  if (self->until == TPT_NO_INSTANT || self->until <= self->on)
    self->until = self->on + DEFAULT_ROUND_DAYS * TPT_DAY;
}

/* The running deployment of each station. */
static GHashTable *
read_running (TptJobDue *self, TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) rows = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error);
  GHashTable *running;

  if (rows == NULL)
    return NULL;
  running = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  for (guint i = 0; i < rows->len; i++)
    {
      TptInstant end = tpt_record_get_instant (rows->pdata[i], "end");

      if (tpt_record_get_instant (rows->pdata[i], "start") <= self->on && (end == TPT_NO_INSTANT || end > self->on))
        g_hash_table_insert (running, g_strdup (tpt_record_get_text (rows->pdata[i], "station")), g_object_ref (rows->pdata[i]));
    }
  return running;
}

/* Lost nights by tenths, as they are shown. */
static double
rank (TptStationItem *item)
{
  double lost = tpt_station_item_get_forecast (item)->lost_nights;

  if (tpt_station_item_get_deployment (item) == NULL)
    return -2;
  return isnan (lost) ? -1 : round (lost * 10);
}

/* Equal losses, which is mostly none, go by who runs out first. */
static int
compare_items_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  TptStationItem *x = (gpointer) a, *y = (gpointer) b;
  double rx = rank (x), ry = rank (y);
  TptInstant px = tpt_station_item_get_forecast (x)->interval.p50, py = tpt_station_item_get_forecast (y)->interval.p50;

  if (rx != ry)
    return rx > ry ? -1 : 1;
  if (px != py)
    return px == TPT_NO_INSTANT ? 1 : py == TPT_NO_INSTANT ? -1 : px < py ? -1 : 1;
  return g_strcmp0 (tpt_station_item_get_code (x), tpt_station_item_get_code (y));
}

static gboolean
is_wanted (TptJobDue *self, const char *station)
{
  return self->only == NULL || g_strv_contains ((const char *const *) self->only, station);
}

static gboolean
forecast_all (TptJobDue *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);
  g_autoptr (GHashTable) running = stations != NULL ? read_running (self, store, error) : NULL;
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func (g_object_unref);

  if (running == NULL)
    return FALSE;
  for (guint i = 0; i < stations->len; i++)
    {
      TptRecord *deployment = g_hash_table_lookup (running, tpt_record_get_code (stations->pdata[i]));
      TptStationItem *item;

      if (!is_wanted (self, tpt_record_get_code (stations->pdata[i])))
        continue;
      item = tpt_station_item_new (stations->pdata[i], deployment);
      g_ptr_array_add (items, item);
    }
  tpt_due_forecast_all (self->facts, items, cancellable);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  g_list_store_splice (self->stations, 0, 0, items->pdata, items->len);
  return TRUE;
}

static void
append_part (GString *text, char *part /* (transfer full) */)
{
  g_string_append_printf (text, "%s%s", text->len == 0 ? "" : ", ", part);
  g_free (part);
}

static void
say_summary (TptJobDue *self)
{
  guint down = 0, due = 0, untold = 0, n = g_list_model_get_n_items (G_LIST_MODEL (self->stations));
  g_autofree char *day = tpt_words_day (self->until, self->zone, self->on);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (G_LIST_MODEL (self->stations), i);
      TptSymbolState state = tpt_station_item_get_forecast (item)->state;

      down += state == TPT_STATE_DOWN;
      due += state == TPT_STATE_NOW || state == TPT_STATE_SOON;
      untold += state == TPT_STATE_UNKNOWN && tpt_station_item_get_deployment (item) != NULL;
    }
  if (down > 0)
    append_part (text, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u station down", "%u stations down", down), down));
  if (due > 0)
    append_part (text, g_strdup_printf (_("%u due before %s"), due, day));
  if (text->len == 0)
    append_part (text, n == 0 ? g_strdup (_("No stations yet")) : g_strdup_printf (_("Nothing due before %s"), day));
  if (untold > 0)
    append_part (text, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u cannot be told", "%u cannot be told", untold), untold));
  self->summary = g_string_free (text, FALSE);
}

/* Spare packs go where most is lost. */
static void
pack (TptJobDue *self)
{
  g_autofree char *needs = NULL;

  self->packing = tpt_packing_new (self->shelf, self->threshold);
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->stations)); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (G_LIST_MODEL (self->stations), i);

      g_array_unref (tpt_packing_add (self->packing, item));
    }
  needs = tpt_packing_describe (tpt_packing_get_items (self->packing));
  self->bring = *needs != '\0' ? g_strdup_printf (_("Bring %s"), needs) : g_strdup ("");
}

/* A fifth of the axis lies behind, the round about half-way. */
static void
choose_axis (TptJobDue *self)
{
  TptInstant ahead = MAX (self->until - self->on, 14 * TPT_DAY);

  self->axis = (TptRange){ self->on - ahead / 2, self->on + 2 * ahead };
}

/* What follows from the forecasts of the stations. */
static void
conclude (TptJobDue *self)
{
  g_list_store_sort (self->stations, compare_items_cb, NULL);
  say_summary (self);
  pack (self);
  choose_axis (self);
}

gboolean
tpt_job_due_compute (TptJobDue *self, TptStore *store, GCancellable *cancellable, GError **error)
{
  gboolean good;

  choose_moments (self, store);
  if (!tpt_store_check_stations (store, (const char *const *) self->only, error))
    return FALSE;
  self->zone = tpt_zone_ref (tpt_store_get_zone (store));
  self->shelf = tpt_pack_shelf_read (store, self->on, error);
  self->facts = self->shelf != NULL ? tpt_due_facts_new (store, self->on, self->until, error) : NULL;
  good = self->facts != NULL && forecast_all (self, store, cancellable, error);
  if (good)
    {
      self->threshold = self->facts->threshold;
      conclude (self);
    }
  g_clear_pointer (&self->facts, tpt_due_facts_free);
  return good;
}

TptJobDue *
tpt_job_due_derive (TptJobDue *base, TptInstant until, GPtrArray *items)
{
  TptJobDue *self = tpt_job_due_new (base->on, until);

  self->zone = tpt_zone_ref (base->zone);
  self->shelf = tpt_pack_shelf_ref (base->shelf);
  self->threshold = base->threshold;
  g_list_store_splice (self->stations, 0, 0, items->pdata, items->len);
  conclude (self);
  self->axis = base->axis; /* stands still while the round is tried */
  return self;
}

static gboolean
tpt_job_due_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  return tpt_job_due_compute (TPT_JOB_DUE (job), store, cancellable, error);
}

static void
tpt_job_due_dispose (GObject *object)
{
  TptJobDue *self = TPT_JOB_DUE (object);

  g_assert (self->facts == NULL);
  g_clear_object (&self->stations);
  g_clear_pointer (&self->only, g_strfreev);
  g_clear_pointer (&self->zone, tpt_zone_unref);
  g_clear_pointer (&self->packing, tpt_packing_free);
  g_clear_pointer (&self->shelf, tpt_pack_shelf_unref);
  g_clear_pointer (&self->summary, g_free);
  g_clear_pointer (&self->bring, g_free);

  G_OBJECT_CLASS (tpt_job_due_parent_class)->dispose (object);
}

static void
tpt_job_due_class_init (TptJobDueClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_due_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_due_run;
}

static void
tpt_job_due_init (TptJobDue *self)
{
  self->stations = g_list_store_new (TPT_TYPE_STATION_ITEM);
}

TptJobDue *
tpt_job_due_new (TptInstant on, TptInstant until)
{
  TptJobDue *self = g_object_new (TPT_TYPE_JOB_DUE, NULL);

  self->on = on;
  self->until = until;
  return self;
}

TptInstant
tpt_job_due_get_on (TptJobDue *self)
{
  return self->on;
}

TptInstant
tpt_job_due_get_until (TptJobDue *self)
{
  return self->until;
}

GListModel *
tpt_job_due_get_stations (TptJobDue *self)
{
  return G_LIST_MODEL (self->stations);
}

const char *
tpt_job_due_get_summary (TptJobDue *self)
{
  return self->summary;
}

const char *
tpt_job_due_get_bring (TptJobDue *self)
{
  return self->bring;
}

TptRange
tpt_job_due_get_axis (TptJobDue *self)
{
  return self->axis;
}

double
tpt_job_due_get_lost_nights (TptJobDue *self)
{
  double lost = 0;

  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->stations)); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (G_LIST_MODEL (self->stations), i);
      double own = tpt_station_item_get_forecast (item)->lost_nights;

      lost += isnan (own) ? 0 : own;
    }
  return lost;
}

GArray *
tpt_job_due_get_packing (TptJobDue *self)
{
  return tpt_packing_get_items (self->packing);
}

TptPacking *
tpt_job_due_begin_packing (TptJobDue *self)
{
  return tpt_packing_new (self->shelf, self->threshold);
}

void
tpt_job_due_set_stations (TptJobDue *self, const char *const *stations)
{
  g_strfreev (self->only);
  self->only = g_strdupv ((GStrv) stations);
}

double
tpt_job_due_get_threshold (TptJobDue *self)
{
  return self->threshold;
}
