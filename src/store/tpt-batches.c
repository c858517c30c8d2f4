#include "config.h"

#include "tpt-batches.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "tpt-clock-rows.h"
#include "tpt-error.h"
#include "tpt-frames.h"
#include "tpt-store-private.h"

char *
tpt_frame_code (const char *sha256)
{
  return g_strndup (sha256, 16);
}

/* RFC 9562, version 8: made from the content, the same in every copy. */
static char *
uuid_from_digest (const char *hex)
{
  return g_strdup_printf ("%.8s-%.4s-8%.3s-b%.3s-%.12s", hex, hex + 8, hex + 12, hex + 15, hex + 18);
}

static char *
frame_uuid (TptStore *self, const TptNewFrame *frame)
{
  if (frame->sha256 != NULL && strlen (frame->sha256) == 64)
    return uuid_from_digest (frame->sha256);
  return tpt_store_new_uuid (self);
}

typedef struct {
  TptInstant start;
  TptInstant end;
  int frames;
  gint64 id;
} Trigger;

static GArray *
collect_triggers (const TptNewBatch *batch)
{
  GArray *triggers = g_array_new (FALSE, TRUE, sizeof (Trigger));

  for (gsize i = 0; i < batch->n_frames; i++)
    {
      const TptNewFrame *frame = &batch->frames[i];
      Trigger *trigger;

      if (frame->trigger < 0)
        continue;
      if ((guint) frame->trigger >= triggers->len)
        g_array_set_size (triggers, (guint) frame->trigger + 1);
      trigger = &g_array_index (triggers, Trigger, frame->trigger);
      if (trigger->frames++ == 0)
        trigger->start = trigger->end = frame->at;
      trigger->start = MIN (trigger->start, frame->at);
      trigger->end = MAX (trigger->end, frame->at);
    }
  return triggers;
}

static gboolean
insert_batch (TptStore *self, const TptNewBatch *batch, gint64 *id, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "INSERT INTO batches (uuid, batch, deployment_id, taken_at, source, folder, clock_read, clock_true,"
                    " clock_offset_s, frames, bytes, duplicates, first_at, last_at, camera_model, camera_serial, active)"
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, 0)",
                    error);
  g_autofree char *uuid = tpt_store_new_uuid (self);
  TptInstant first = TPT_NO_INSTANT, last = TPT_NO_INSTANT;
  gint64 bytes = 0;

  if (stmt == NULL)
    return FALSE;
  for (gsize i = 0; i < batch->n_frames; i++)
    {
      TptInstant at = batch->frames[i].at;

      bytes += MAX (batch->frames[i].bytes, 0);
      if (at == TPT_NO_INSTANT)
        continue;
      first = first == TPT_NO_INSTANT ? at : MIN (first, at);
      last = MAX (last, at);
    }
  tpt_stmt_bind_text (stmt, 1, uuid);
  tpt_stmt_bind_text (stmt, 2, batch->batch);
  tpt_stmt_bind_int (stmt, 3, batch->deployment_id);
  tpt_stmt_bind_instant (stmt, 4, tpt_store_get_now (self));
  tpt_stmt_bind_text (stmt, 5, batch->source);
  tpt_stmt_bind_text (stmt, 6, batch->folder);
  tpt_stmt_bind_text (stmt, 7, batch->clock_read);
  tpt_stmt_bind_instant (stmt, 8, batch->clock_true);
  tpt_stmt_bind_double (stmt, 9, batch->clock_offset_s);
  tpt_stmt_bind_int (stmt, 10, (gint64) batch->n_frames);
  tpt_stmt_bind_int (stmt, 11, bytes);
  tpt_stmt_bind_int (stmt, 12, batch->duplicates);
  tpt_stmt_bind_instant (stmt, 13, first);
  tpt_stmt_bind_instant (stmt, 14, last);
  tpt_stmt_bind_text (stmt, 15, batch->camera_model);
  tpt_stmt_bind_text (stmt, 16, batch->camera_serial);
  if (!tpt_stmt_run (stmt, error))
    return FALSE;
  *id = tpt_db_last_id (self->db);
  return TRUE;
}

static gboolean
insert_triggers (TptStore *self, const TptNewBatch *batch, gint64 batch_id, GArray *triggers, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "INSERT INTO triggers (uuid, batch_id, deployment_id, start_at, end_at, frames)"
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
                    error);

  if (stmt == NULL)
    return FALSE;
  for (guint i = 0; i < triggers->len; i++)
    {
      Trigger *trigger = &g_array_index (triggers, Trigger, i);
      g_autofree char *uuid = tpt_store_new_uuid (self);

      tpt_stmt_bind_text (stmt, 1, uuid);
      tpt_stmt_bind_int (stmt, 2, batch_id);
      tpt_stmt_bind_int (stmt, 3, batch->deployment_id);
      tpt_stmt_bind_instant (stmt, 4, trigger->start);
      tpt_stmt_bind_instant (stmt, 5, trigger->end);
      tpt_stmt_bind_int (stmt, 6, trigger->frames);
      if (!tpt_stmt_run (stmt, error))
        return FALSE;
      trigger->id = tpt_db_last_id (self->db);
    }
  return TRUE;
}

static void
bind_count (TptStmt *stmt, int index, gint64 value, gint64 least)
{
  if (value >= least)
    tpt_stmt_bind_int (stmt, index, value);
  else
    tpt_stmt_bind_null (stmt, index);
}

static void
bind_facts (TptStmt *stmt, const TptFrameFacts *facts)
{
  static const TptFrameFacts none = { .temperature_c = NAN, .flash = -1 };
  const TptFrameFacts *known = facts != NULL ? facts : &none;

  bind_count (stmt, 13, known->place, 1);
  tpt_stmt_bind_text (stmt, 14, known->kind);
  tpt_stmt_bind_double (stmt, 15, known->temperature_c);
  bind_count (stmt, 16, known->flash, 0);
  bind_count (stmt, 17, known->sequence, 1);
}

static gboolean
insert_frames (TptStore *self, const TptNewBatch *batch, gint64 batch_id, GArray *triggers, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "INSERT INTO frames (uuid, frame, batch_id, deployment_id, trigger_id, file, camera_time, time_source,"
                    " at, sha256, bytes, damage, place, kind, temperature_c, flash, sequence)"
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17)",
                    error);

  if (stmt == NULL)
    return FALSE;
  for (gsize i = 0; i < batch->n_frames; i++)
    {
      const TptNewFrame *frame = &batch->frames[i];
      g_autofree char *uuid = frame_uuid (self, frame);
      g_autofree char *code = frame->frame != NULL ? g_strdup (frame->frame) : tpt_frame_code (frame->sha256);

      tpt_stmt_bind_text (stmt, 1, uuid);
      tpt_stmt_bind_text (stmt, 2, code);
      tpt_stmt_bind_int (stmt, 3, batch_id);
      tpt_stmt_bind_int (stmt, 4, batch->deployment_id);
      if (frame->trigger >= 0)
        tpt_stmt_bind_int (stmt, 5, g_array_index (triggers, Trigger, frame->trigger).id);
      else
        tpt_stmt_bind_null (stmt, 5);
      tpt_stmt_bind_text (stmt, 6, frame->file);
      tpt_stmt_bind_text (stmt, 7, frame->camera_time);
      tpt_stmt_bind_text (stmt, 8, frame->time_source);
      tpt_stmt_bind_instant (stmt, 9, frame->at);
      tpt_stmt_bind_text (stmt, 10, frame->sha256);
      bind_count (stmt, 11, frame->bytes, 0);
      tpt_stmt_bind_text (stmt, 12, frame->damage);
      bind_facts (stmt, frame->facts);
      if (!tpt_stmt_run (stmt, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
insert_set_aside (TptStore *self, const TptNewBatch *batch, gint64 batch_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (
    self->db, "INSERT INTO set_aside (uuid, batch_id, file, reason, kept_as) VALUES (?1, ?2, ?3, ?4, ?5)", error);

  if (stmt == NULL)
    return FALSE;
  for (gsize i = 0; i < batch->n_set_aside; i++)
    {
      g_autofree char *uuid = tpt_store_new_uuid (self);

      tpt_stmt_bind_text (stmt, 1, uuid);
      tpt_stmt_bind_int (stmt, 2, batch_id);
      tpt_stmt_bind_text (stmt, 3, batch->set_aside[i].file);
      tpt_stmt_bind_text (stmt, 4, batch->set_aside[i].reason);
      tpt_stmt_bind_text (stmt, 5, batch->set_aside[i].kept_as);
      if (!tpt_stmt_run (stmt, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
make_count (TptStore *self, gint64 batch_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "UPDATE batches SET active = 1 WHERE id = ?1", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_store_add_batch (TptStore *self, const TptNewBatch *batch, GError **error)
{
  g_autoptr (GArray) triggers = collect_triggers (batch);
  gint64 id;

  g_return_val_if_fail (self->action != NULL, FALSE);

  tpt_action_pause (self->action);
  if (!tpt_store_purge_withdrawn (self, error) || !insert_batch (self, batch, &id, error) ||
      !insert_triggers (self, batch, id, triggers, error) || !insert_frames (self, batch, id, triggers, error) ||
      !insert_set_aside (self, batch, id, error))
    return FALSE;
  tpt_action_resume (self->action);
  return make_count (self, id, error) && tpt_store_link_observations (self, batch->deployment_id, error) &&
         tpt_store_add_clock_pieces (self, id, batch->pieces, batch->n_pieces, error);
}

char *
tpt_store_make_batch_code (TptStore *self, const char *deployment, GError **error)
{
  return tpt_store_find_free_code (self, "SELECT count(*) FROM batches WHERE batch = ?1", deployment, "-B", error);
}

gboolean
tpt_store_has_set_aside (TptStore *self, gint64 deployment_id, const char *file, gboolean *has, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT count(*) FROM set_aside a JOIN batches b ON b.id = a.batch_id"
                    " WHERE b.active AND b.deployment_id = ?1 AND a.file = ?2",
                    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, deployment_id);
  tpt_stmt_bind_text (stmt, 2, file);
  if (!tpt_stmt_next (stmt, error))
    return FALSE;
  *has = tpt_stmt_int (stmt, 0) > 0;
  return TRUE;
}

gboolean
tpt_store_knows_content (TptStore *self, const char *sha256, gboolean *known, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "SELECT count(*) FROM frames f JOIN batches b ON b.id = f.batch_id"
                                             " WHERE f.frame = ?1 AND b.active",
                                             error);
  g_autofree char *code = tpt_frame_code (sha256);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, code);
  if (!tpt_stmt_next (stmt, error))
    return FALSE;
  *known = tpt_stmt_int (stmt, 0) > 0;
  return TRUE;
}

gboolean
tpt_store_check_batch (TptStore *self, const char *batch, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT 1 FROM batches WHERE batch = ?1 AND active", error);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, batch);
  if (batch == NULL || tpt_stmt_next (stmt, &failure))
    return TRUE;
  if (failure != NULL)
    g_propagate_error (error, failure);
  else
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("There is no card batch “%s” in this project"), batch);
  return FALSE;
}

static void
free_picture_row (gpointer data)
{
  TptPictureRow *row = data;

  g_free (row->file);
  g_free (row->sha256);
  g_free (row);
}

gboolean
tpt_store_count_pictures (TptStore *self, gint64 *count, GError **error)
{
  return tpt_db_query_int (self->db, "SELECT coalesce(sum(frames), 0) FROM batches WHERE active", count, error);
}

GPtrArray *
tpt_store_page_pictures (TptStore *self, gint64 after, int limit, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT f.id, f.file, f.sha256, f.bytes FROM frames f JOIN batches b ON b.id = f.batch_id"
                    " WHERE f.id > ?1 AND b.active ORDER BY f.id LIMIT ?2",
                    error);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (free_picture_row);
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, after);
  tpt_stmt_bind_int (stmt, 2, limit);
  while (tpt_stmt_next (stmt, &failure))
    {
      TptPictureRow *row = g_new0 (TptPictureRow, 1);

      row->frame_id = tpt_stmt_int (stmt, 0);
      row->file = g_strdup (tpt_stmt_text (stmt, 1));
      row->sha256 = g_strdup (tpt_stmt_text (stmt, 2));
      row->bytes = tpt_stmt_is_null (stmt, 3) ? -1 : tpt_stmt_int (stmt, 3);
      g_ptr_array_add (rows, row);
    }
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return NULL;
    }
  return g_steal_pointer (&rows);
}
