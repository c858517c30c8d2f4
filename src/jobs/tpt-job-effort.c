#include "config.h"

#include "tpt-job-effort.h"

#include <glib/gi18n-lib.h>

#include "sci-effort.h"
#include "tpt-effort-private.h"
#include "tpt-query.h"
#include "tpt-records.h"

struct _TptJobEffort {
  TptJob parent_instance;

  /* Input arguments */
  TptFilter *filter; /* (owned) */
  TptInstant now;

  /* Results */
  GPtrArray *deployments; /* (owned) (nullable) */
};

G_DEFINE_FINAL_TYPE (TptJobEffort, tpt_job_effort, TPT_TYPE_JOB)

const char *
tpt_gap_why_to_string (TptGapWhy why)
{
  static const char *const words[] = { "dead", "card-full", "gone" };

  return words[why];
}

const char *
tpt_gap_why_label (TptGapWhy why)
{
  static const char *const labels[] = { N_("found dead"), N_("card full"), N_("rig gone") };

  return _(labels[why]);
}

void
tpt_effort_free (gpointer data)
{
  TptEffort *effort = data;

  g_free (effort->deployment);
  g_free (effort->station);
  g_array_unref (effort->worked);
  g_array_unref (effort->gaps);
  g_free (effort);
}

static SciSpan
span_of (TptInstant from, TptInstant to)
{
  return (SciSpan){ from != TPT_NO_INSTANT ? from : INT64_MIN, to != TPT_NO_INSTANT ? to : INT64_MAX };
}

static gboolean
read_why (TptRecord *visit, TptGapWhy *why)
{
  const char *found = tpt_record_get_text (visit, "found");

  if (g_strcmp0 (found, "dead") == 0)
    *why = TPT_GAP_DEAD;
  else if (g_strcmp0 (found, "card-full") == 0)
    *why = TPT_GAP_CARD_FULL;
  else if (g_strcmp0 (found, "gone") == 0)
    *why = TPT_GAP_GONE;
  else
    return FALSE;
  return TRUE;
}

/* A rig found out of order counts until it last showed that it worked: its
 * last frame, the visit before, or its start. */
static gboolean
add_outage (TptStore *store, TptEffort *effort, TptRecord *visit, TptGapWhy why, TptInstant proof, GArray *outages,
            GError **error)
{
  TptInstant at = tpt_record_get_instant (visit, "at");
  GError *failure = NULL;
  TptInstant sign = tpt_store_read_last_sign (store, effort->deployment_id, at, &failure);
  TptGap outage = { { MAX (proof, sign), at }, why };

  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  if (outage.range.from < at)
    g_array_append_val (outages, outage);
  return TRUE;
}

static gboolean
read_outages (TptStore *store, TptEffort *effort, TptRange deployment, GPtrArray *visits, GArray *outages, GError **error)
{
  TptInstant proof = deployment.from;

  for (guint i = 0; i < visits->len; i++)
    {
      TptRecord *visit = visits->pdata[i];
      TptInstant at = tpt_record_get_instant (visit, "at");
      TptGapWhy why;

      if (at <= deployment.from || at > deployment.to ||
          g_strcmp0 (tpt_record_get_text (visit, "station"), effort->station) != 0)
        continue;
      if (read_why (visit, &why) && !add_outage (store, effort, visit, why, proof, outages, error))
        return FALSE;
      proof = at;
    }
  return TRUE;
}

static void
cut_gaps (TptEffort *effort, SciSpan deployment, SciSpan period, GArray *outages)
{
  for (guint i = 0; i < outages->len; i++)
    {
      TptGap gap = g_array_index (outages, TptGap, i);
      SciSpan span = sci_span_clip (sci_span_clip (span_of (gap.range.from, gap.range.to), deployment), period);

      if (span.to <= span.from)
        continue;
      gap.range = (TptRange){ span.from, span.to };
      g_array_append_val (effort->gaps, gap);
    }
}

static void
count_nights (TptEffort *effort, SciSpan deployment, SciSpan period, GArray *outages)
{
  guint n = outages->len;
  g_autofree SciSpan *spans = g_new (SciSpan, n + 1);
  g_autofree SciSpan *working = g_new (SciSpan, n + 1);
  gsize n_outages, n_working;

  for (guint i = 0; i < n; i++)
    spans[i] = (SciSpan){ g_array_index (outages, TptGap, i).range.from, g_array_index (outages, TptGap, i).range.to };
  n_outages = sci_spans_unite (spans, n);
  n_working = sci_effort_working (deployment, period, spans, n_outages, working);
  for (gsize i = 0; i < n_working; i++)
    {
      TptRange range = { working[i].from, working[i].to };
      g_array_append_val (effort->worked, range);
    }
  effort->nights = sci_nights (sci_spans_total (working, n_working));
}

static TptEffort *
make_effort (TptRecord *deployment, GHashTable *station_ids)
{
  TptEffort *effort = g_new0 (TptEffort, 1);

  effort->deployment = g_strdup (tpt_record_get_code (deployment));
  effort->deployment_id = tpt_record_get_id (deployment);
  effort->station = g_strdup (tpt_record_get_text (deployment, "station"));
  effort->station_id = GPOINTER_TO_SIZE (g_hash_table_lookup (station_ids, effort->station));
  effort->worked = g_array_new (FALSE, FALSE, sizeof (TptRange));
  effort->gaps = g_array_new (FALSE, FALSE, sizeof (TptGap));
  return effort;
}

static GHashTable *
read_station_ids (TptStore *store, GError **error)
{
  g_autoptr (GPtrArray) stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);
  GHashTable *ids;

  if (stations == NULL)
    return NULL;
  ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < stations->len; i++)
    g_hash_table_insert (ids, g_strdup (tpt_record_get_code (stations->pdata[i])),
                         GSIZE_TO_POINTER ((gsize) tpt_record_get_id (stations->pdata[i])));
  return ids;
}

static gboolean
add_visits (GHashTable *by_station, TptStore *store, const char *station_or_all, GError **error)
{
  g_autoptr (GPtrArray) visits =
    tpt_store_list (store, TPT_TABLE_VISITS, station_or_all != NULL ? "station" : NULL, station_or_all, error);

  if (visits == NULL)
    return FALSE;
  for (guint i = 0; i < visits->len; i++)
    {
      const char *station = tpt_record_get_text (visits->pdata[i], "station");
      GPtrArray *own = g_hash_table_lookup (by_station, station);

      if (own == NULL)
        {
          own = g_ptr_array_new_with_free_func (g_object_unref);
          g_hash_table_insert (by_station, g_strdup (station), own);
        }
      g_ptr_array_add (own, g_object_ref (visits->pdata[i]));
    }
  return TRUE;
}

/* Visits by station, so that each deployment looks at its own only. */
static GHashTable *
read_visits (TptStore *store, const TptFilter *filter, GError **error)
{
  g_autoptr (GHashTable) by_station =
    g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);

  if (filter->stations == NULL)
    return add_visits (by_station, store, NULL, error) ? g_steal_pointer (&by_station) : NULL;
  for (guint i = 0; filter->stations[i] != NULL; i++)
    if (!g_hash_table_contains (by_station, filter->stations[i]) && !add_visits (by_station, store, filter->stations[i], error))
      return NULL;
  return g_steal_pointer (&by_station);
}

static gboolean
fill_effort (TptStore *store, TptEffort *effort, TptRecord *record, const TptFilter *filter, TptInstant now,
             GPtrArray *visits, GError **error)
{
  TptInstant end = tpt_record_get_instant (record, "end");
  TptInstant start = tpt_record_get_instant (record, "start");
  TptRange range = { start, MAX (start, end != TPT_NO_INSTANT ? MIN (end, now) : now) }; /* nothing ahead has been worked */
  SciSpan deployment = span_of (range.from, range.to);
  SciSpan period = span_of (filter->range.from, filter->range.to);
  g_autoptr (GArray) outages = g_array_new (FALSE, FALSE, sizeof (TptGap));

  if (visits != NULL && !read_outages (store, effort, range, visits, outages, error))
    return FALSE;
  cut_gaps (effort, deployment, period, outages);
  count_nights (effort, deployment, period, outages);
  return TRUE;
}

GPtrArray *
tpt_effort_read (TptStore *store, const TptFilter *filter, TptInstant now, GError **error)
{
  g_autoptr (GPtrArray) records = tpt_store_list (store, TPT_TABLE_DEPLOYMENTS, NULL, NULL, error);
  g_autoptr (GHashTable) ids = records != NULL ? read_station_ids (store, error) : NULL;
  g_autoptr (GHashTable) visits = ids != NULL ? read_visits (store, filter, error) : NULL;
  g_autoptr (GPtrArray) efforts = g_ptr_array_new_with_free_func (tpt_effort_free);

  if (visits == NULL)
    return NULL;
  for (guint i = 0; i < records->len; i++)
    {
      const char *station = tpt_record_get_text (records->pdata[i], "station");
      TptEffort *effort;

      if (filter->stations != NULL && !g_strv_contains ((const char *const *) filter->stations, station))
        continue;
      effort = make_effort (records->pdata[i], ids);
      g_ptr_array_add (efforts, effort);
      if (!fill_effort (store, effort, records->pdata[i], filter, now, g_hash_table_lookup (visits, station), error))
        return NULL;
    }
  return g_steal_pointer (&efforts);
}

static gboolean
tpt_job_effort_run (TptJob *job, TptStore *store, GCancellable *cancellable, GError **error)
{
  TptJobEffort *self = TPT_JOB_EFFORT (job);

  if (self->now == TPT_NO_INSTANT)
    self->now = tpt_store_get_now (store);
  if (!tpt_store_check_stations (store, (const char *const *) self->filter->stations, error))
    return FALSE;
  self->deployments = tpt_effort_read (store, self->filter, self->now, error);
  return self->deployments != NULL;
}

static void
tpt_job_effort_dispose (GObject *object)
{
  TptJobEffort *self = TPT_JOB_EFFORT (object);

  g_clear_pointer (&self->filter, tpt_filter_free);
  g_clear_pointer (&self->deployments, g_ptr_array_unref);

  G_OBJECT_CLASS (tpt_job_effort_parent_class)->dispose (object);
}

static void
tpt_job_effort_class_init (TptJobEffortClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_job_effort_dispose;
  TPT_JOB_CLASS (klass)->run = tpt_job_effort_run;
}

static void
tpt_job_effort_init (TptJobEffort *self)
{
}

TptJobEffort *
tpt_job_effort_new (const TptFilter *filter, TptInstant now)
{
  TptJobEffort *self = g_object_new (TPT_TYPE_JOB_EFFORT, NULL);

  self->filter = tpt_filter_copy (filter);
  self->now = now;
  return self;
}

GPtrArray *
tpt_job_effort_get_deployments (TptJobEffort *self)
{
  return self->deployments;
}

double
tpt_job_effort_get_nights (TptJobEffort *self)
{
  double nights = 0;

  for (guint i = 0; self->deployments != NULL && i < self->deployments->len; i++)
    nights += ((TptEffort *) self->deployments->pdata[i])->nights;
  return nights;
}
