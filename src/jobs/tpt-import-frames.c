#include "config.h"

#include <math.h>

#include "tpt-batches.h"
#include "tpt-clock.h"
#include "tpt-import-private.h"
#include "tpt-records.h"
#include "tpt-trigger.h"

struct _TptFrameRows {
  GHashTable *by_deployment; /* (owned) (element-type utf8 GPtrArray-of-TptRecord) */
  GPtrArray *order;          /* (element-type utf8): deployments as met */
};

TptFrameRows *
tpt_frame_rows_new (void)
{
  TptFrameRows *self = g_new0 (TptFrameRows, 1);

  self->by_deployment = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_ptr_array_unref);
  self->order = g_ptr_array_new ();
  return self;
}

void
tpt_frame_rows_free (TptFrameRows *self)
{
  g_ptr_array_unref (self->order);
  g_hash_table_unref (self->by_deployment);
  g_free (self);
}

void
tpt_frame_rows_add (TptFrameRows *self, TptRecord *record)
{
  const char *deployment = tpt_record_get_text (record, "deployment");
  GPtrArray *rows = g_hash_table_lookup (self->by_deployment, deployment);

  if (rows == NULL)
    {
      char *key = g_strdup (deployment);

      rows = g_ptr_array_new_with_free_func (g_object_unref);
      g_hash_table_insert (self->by_deployment, key, rows);
      g_ptr_array_add (self->order, key);
    }
  g_ptr_array_add (rows, g_object_ref (record));
}

/* One deployment's frames on their way to a batch. */
typedef struct {
  TptRecord *deployment;
  GPtrArray *rows;
  TptClockFrame *clock;
  guint *order; /* indices of rows by time */
} Group;

static void
read_times (Group *group)
{
  for (guint i = 0; i < group->rows->len; i++)
    {
      const char *text = tpt_record_get_text (group->rows->pdata[i], "camera_time");

      group->clock[i].source = TPT_TIME_NONE;
      if (text != NULL && tpt_reading_parse (text, &group->clock[i].reading, NULL))
        group->clock[i].source = TPT_TIME_ORIGINAL;
    }
}

static void
correct_times (Group *group, TptStore *store)
{
  TptClock clock = {
    .zone = tpt_store_get_zone (store),
    .start = tpt_record_get_instant (group->deployment, "start"),
    .end = tpt_record_get_instant (group->deployment, "end"),
    .now = TPT_NO_INSTANT,
  };

  if (tpt_record_is_set (group->deployment, "camera_clock_offset_s"))
    clock.camera_clock_offset_s = tpt_record_get_real (group->deployment, "camera_clock_offset_s");
  tpt_clock_correct (&clock, group->clock, group->rows->len, NULL);
}

static int
compare_times_cb (gconstpointer a, gconstpointer b, gpointer data)
{
  const TptClockFrame *clock = data;
  guint i = *(const guint *) a, j = *(const guint *) b;
  TptInstant x = clock[i].at, y = clock[j].at;

  if (x == y)
    return i < j ? -1 : 1;
  if (x == TPT_NO_INSTANT || y == TPT_NO_INSTANT)
    return x == TPT_NO_INSTANT ? 1 : -1;
  return x < y ? -1 : 1;
}

static void
group_triggers (Group *group, TptNewFrame *frames)
{
  guint n = group->rows->len;
  g_autofree TptTriggerFrame *sorted = g_new0 (TptTriggerFrame, n);
  g_autofree guint *triggers = g_new0 (guint, n);

  for (guint i = 0; i < n; i++)
    group->order[i] = i;
  g_qsort_with_data (group->order, (int) n, sizeof (guint), compare_times_cb, group->clock);
  for (guint i = 0; i < n; i++)
    sorted[i].at = group->clock[group->order[i]].at;
  tpt_trigger_group (sorted, n, (int) tpt_record_get_integer (group->deployment, "frames_per_trigger", 0), 0, triggers);
  for (guint i = 0; i < n; i++)
    frames[i].trigger = sorted[i].at != TPT_NO_INSTANT ? (int) triggers[i] : -1;
}

static void
fill_frames (Group *group, TptNewFrame *frames)
{
  for (guint i = 0; i < group->rows->len; i++)
    {
      TptRecord *row = group->rows->pdata[group->order[i]];
      const TptClockFrame *clock = &group->clock[group->order[i]];

      frames[i].file = tpt_record_get_text (row, "file");
      frames[i].frame = tpt_record_get_code (row);
      frames[i].camera_time = tpt_record_get_text (row, "camera_time");
      frames[i].time_source = clock->source != TPT_TIME_NONE ? "table" : NULL;
      frames[i].at = clock->at;
      frames[i].sha256 = tpt_record_get_text (row, "sha256");
      frames[i].bytes = tpt_record_get_integer (row, "bytes", -1);
    }
}

static gboolean
write_group (TptStore *store, Group *group, GError **error)
{
  guint n = group->rows->len;
  g_autofree TptNewFrame *frames = g_new0 (TptNewFrame, n);
  g_autofree char *code = tpt_store_make_batch_code (store, tpt_record_get_code (group->deployment), error);
  TptNewBatch batch = {
    .batch = code,
    .deployment_id = tpt_record_get_id (group->deployment),
    .clock_true = TPT_NO_INSTANT,
    .clock_offset_s = NAN,
    .frames = frames,
    .n_frames = n,
  };

  if (code == NULL)
    return FALSE;
  read_times (group);
  correct_times (group, store);
  group_triggers (group, frames);
  fill_frames (group, frames);
  return tpt_store_add_batch (store, &batch, error);
}

gboolean
tpt_frame_rows_write (TptFrameRows *self, TptStore *store, GError **error)
{
  for (guint i = 0; i < self->order->len; i++)
    {
      const char *code = self->order->pdata[i];
      GPtrArray *rows = g_hash_table_lookup (self->by_deployment, code);
      g_autoptr (TptRecord) deployment = tpt_store_find (store, TPT_TABLE_DEPLOYMENTS, code, error);
      g_autofree TptClockFrame *clock = g_new0 (TptClockFrame, rows->len);
      g_autofree guint *order = g_new0 (guint, rows->len);
      Group group = { deployment, rows, clock, order };

      if (deployment == NULL || !write_group (store, &group, error))
        return FALSE;
    }
  return TRUE;
}
