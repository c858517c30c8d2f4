#include "config.h"

#include "tpt-clock-rows.h"

#include <math.h>

#include "tpt-batches.h"
#include "tpt-store-private.h"

void
tpt_batch_clock_free (TptBatchClock *self)
{
  if (self == NULL)
    return;
  g_free (self->batch);
  g_free (self->deployment);
  g_free (self->clock_read);
  g_free (self->serial);
  g_free (self);
}

TptBatchClock *
tpt_store_find_batch_clock (TptStore *self, const char *batch, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT b.id, d.deployment, b.clock_read, b.clock_true, b.clock_offset_s, b.camera_serial FROM batches b"
                    " LEFT JOIN deployments d ON d.id = b.deployment_id WHERE b.active AND b.batch = ?1",
                    error);
  g_autoptr (TptBatchClock) clock = g_new0 (TptBatchClock, 1);

  if (stmt == NULL || !tpt_store_check_batch (self, batch, error))
    return NULL;
  tpt_stmt_bind_text (stmt, 1, batch);
  if (!tpt_stmt_next (stmt, error))
    return NULL;
  clock->id = tpt_stmt_int (stmt, 0);
  clock->batch = g_strdup (batch);
  clock->deployment = g_strdup (tpt_stmt_text (stmt, 1));
  clock->clock_read = g_strdup (tpt_stmt_text (stmt, 2));
  clock->clock_true = tpt_stmt_instant (stmt, 3);
  clock->clock_offset_s = tpt_stmt_double (stmt, 4);
  clock->serial = g_strdup (tpt_stmt_text (stmt, 5));
  return g_steal_pointer (&clock);
}

static void
free_clock_row (gpointer data)
{
  TptClockRow *row = data;

  g_free (row->file);
  g_free (row->camera_time);
  g_free (row->time_source);
  g_free (row);
}

static TptClockRow *
read_clock_row (TptStmt *stmt)
{
  TptClockRow *row = g_new0 (TptClockRow, 1);

  row->frame_id = tpt_stmt_int (stmt, 0);
  row->file = g_strdup (tpt_stmt_text (stmt, 1));
  row->camera_time = g_strdup (tpt_stmt_text (stmt, 2));
  row->time_source = g_strdup (tpt_stmt_text (stmt, 3));
  row->at = tpt_stmt_instant (stmt, 4);
  row->flash = tpt_stmt_is_null (stmt, 5) ? -1 : (int) tpt_stmt_int (stmt, 5);
  return row;
}

GPtrArray *
tpt_store_read_clock_rows (TptStore *self, gint64 batch_id, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT id, file, camera_time, time_source, at, flash FROM frames"
                    " WHERE batch_id = ?1 ORDER BY place IS NULL, place, file, id",
                    error);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (free_clock_row);
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  while (tpt_stmt_next (stmt, &failure))
    g_ptr_array_add (rows, read_clock_row (stmt));
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return NULL;
    }
  return g_steal_pointer (&rows);
}

static void
add_words (GPtrArray *words, const char *why)
{
  g_auto (GStrv) each = g_strsplit (why, " ", -1);

  for (guint i = 0; each[i] != NULL; i++)
    if (!g_ptr_array_find_with_equal_func (words, each[i], g_str_equal, NULL))
      g_ptr_array_add (words, g_strdup (each[i]));
}

gboolean
tpt_store_read_clock_words (TptStore *self, gint64 batch_id, char **words, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "SELECT why FROM clock_pieces WHERE batch_id = ?1 ORDER BY first_place, id", error);
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (g_free);
  GError *failure = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  while (tpt_stmt_next (stmt, &failure))
    add_words (all, tpt_stmt_text (stmt, 0));
  if (failure != NULL)
    {
      g_propagate_error (error, failure);
      return FALSE;
    }
  g_ptr_array_add (all, NULL);
  *words = g_strjoinv (" ", (char **) all->pdata);
  return TRUE;
}

gboolean
tpt_store_add_clock_pieces (TptStore *self, gint64 batch_id, const TptClockPiece *pieces, gsize n, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "INSERT INTO clock_pieces (uuid, batch_id, first_place, frames, why, anchor, shift_s, drift_s_per_day)"
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
                    error);

  if (stmt == NULL)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *uuid = tpt_store_new_uuid (self);

      tpt_stmt_bind_text (stmt, 1, uuid);
      tpt_stmt_bind_int (stmt, 2, batch_id);
      tpt_stmt_bind_int (stmt, 3, pieces[i].first_place);
      tpt_stmt_bind_int (stmt, 4, pieces[i].frames);
      tpt_stmt_bind_text (stmt, 5, pieces[i].why);
      tpt_stmt_bind_text (stmt, 6, pieces[i].anchor);
      tpt_stmt_bind_double (stmt, 7, pieces[i].shift_s);
      tpt_stmt_bind_double (stmt, 8, pieces[i].drift_s_per_day);
      if (!tpt_stmt_run (stmt, error))
        return FALSE;
    }
  return TRUE;
}

/* Row ids to how far they moved, in milliseconds. */
static GHashTable *
new_moves (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
}

static void
note_move (GHashTable *moves, gint64 id, gint64 by)
{
  if (by != 0)
    g_hash_table_insert (moves, g_memdup2 (&id, sizeof id), g_memdup2 (&by, sizeof by));
}

static gint64
find_move (GHashTable *moves, gint64 id)
{
  const gint64 *by = g_hash_table_lookup (moves, &id);

  return by != NULL ? *by : 0;
}

typedef struct {
  gint64 id;
  TptInstant at;
} Moment;

static void
fill_moment_cb (TptStmt *stmt, gpointer data)
{
  Moment *moment = data;

  moment->id = tpt_stmt_int (stmt, 0);
  moment->at = tpt_stmt_instant (stmt, 1);
}

static GArray *
read_moments (TptStore *self, const char *sql, gint64 batch_id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql, error);

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  return tpt_store_read_rows (stmt, sizeof (Moment), fill_moment_cb, error);
}

/* (transfer full): a table from id to the present instant. */
static GHashTable *
index_moments (GArray *moments)
{
  GHashTable *index = new_moves ();

  for (guint i = 0; i < moments->len; i++)
    {
      const Moment *moment = &g_array_index (moments, Moment, i);

      g_hash_table_insert (index, g_memdup2 (&moment->id, sizeof moment->id), g_memdup2 (&moment->at, sizeof moment->at));
    }
  return index;
}

static gboolean
move_frames (TptStore *self, gint64 batch_id, const TptRetimed *frames, gsize n, GHashTable *moves, gint64 *changed,
             GError **error)
{
  g_autoptr (GArray) now = read_moments (self, "SELECT id, at FROM frames WHERE batch_id = ?1 ORDER BY id", batch_id, error);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "UPDATE frames SET at = ?2 WHERE id = ?1", error);
  g_autoptr (GHashTable) index = NULL;

  if (now == NULL || stmt == NULL)
    return FALSE;
  index = index_moments (now);
  for (gsize i = 0; i < n; i++)
    {
      const TptInstant *before = g_hash_table_lookup (index, &frames[i].frame_id);

      if (before == NULL || frames[i].at == TPT_NO_INSTANT || *before == frames[i].at)
        continue;
      if (*before != TPT_NO_INSTANT)
        note_move (moves, frames[i].frame_id, frames[i].at - *before);
      (*changed)++;
      tpt_stmt_bind_int (stmt, 1, frames[i].frame_id);
      tpt_stmt_bind_instant (stmt, 2, frames[i].at);
      if (!tpt_stmt_run (stmt, error))
        return FALSE;
    }
  return TRUE;
}

#define TRIGGERS_SQL "SELECT id, start_at FROM triggers WHERE batch_id = ?1 ORDER BY id"

static gboolean
move_triggers (TptStore *self, gint64 batch_id, GHashTable *moves, GError **error)
{
  g_autoptr (GArray) before = read_moments (self, TRIGGERS_SQL, batch_id, error);
  g_autoptr (GArray) after = NULL;
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "UPDATE triggers SET (start_at, end_at) = (SELECT min(f.at), max(f.at) FROM frames f"
                    " WHERE f.trigger_id = triggers.id) WHERE batch_id = ?1"
                    " AND EXISTS (SELECT 1 FROM frames f WHERE f.trigger_id = triggers.id AND f.at IS NOT NULL)",
                    error);

  if (before == NULL || stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  if (!tpt_stmt_run (stmt, error))
    return FALSE;
  after = read_moments (self, TRIGGERS_SQL, batch_id, error);
  for (guint i = 0; after != NULL && i < after->len; i++)
    {
      TptInstant from = g_array_index (before, Moment, i).at, to = g_array_index (after, Moment, i).at;

      if (from != TPT_NO_INSTANT && to != TPT_NO_INSTANT)
        note_move (moves, g_array_index (after, Moment, i).id, to - from);
    }
  return after != NULL;
}

typedef struct {
  gint64 id;
  gint64 trigger_id;
  gint64 frame_id;
  TptInstant start;
  TptInstant end;
} Named;

static void
fill_named_cb (TptStmt *stmt, gpointer data)
{
  Named *named = data;

  named->id = tpt_stmt_int (stmt, 0);
  named->trigger_id = tpt_stmt_int (stmt, 1);
  named->frame_id = tpt_stmt_int (stmt, 2);
  named->start = tpt_stmt_instant (stmt, 3);
  named->end = tpt_stmt_instant (stmt, 4);
}

static gboolean
move_observation (TptStore *self, const Named *named, gint64 by, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "UPDATE observations SET start_at = ?2, end_at = ?3 WHERE id = ?1", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, named->id);
  tpt_stmt_bind_instant (stmt, 2, named->start + by);
  tpt_stmt_bind_instant (stmt, 3, named->end != TPT_NO_INSTANT ? named->end + by : TPT_NO_INSTANT);
  return tpt_stmt_run (stmt, error);
}

static gboolean
move_observations (TptStore *self, gint64 batch_id, GHashTable *frames, GHashTable *triggers, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT id, coalesce(trigger_id, 0), coalesce(frame_id, 0), start_at, end_at FROM observations"
                    " WHERE trigger_id IN (SELECT id FROM triggers WHERE batch_id = ?1)"
                    " OR frame_id IN (SELECT id FROM frames WHERE batch_id = ?1) ORDER BY id",
                    error);
  g_autoptr (GArray) rows = NULL;

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  rows = tpt_store_read_rows (stmt, sizeof (Named), fill_named_cb, error);
  for (guint i = 0; rows != NULL && i < rows->len; i++)
    {
      const Named *named = &g_array_index (rows, Named, i);
      gint64 by = named->trigger_id != 0 ? find_move (triggers, named->trigger_id) : find_move (frames, named->frame_id);

      if (by != 0 && !move_observation (self, named, by, error))
        return FALSE;
    }
  return rows != NULL;
}

static gboolean
update_batch (TptStore *self, const TptBatchClock *clock, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "UPDATE batches SET clock_read = ?2, clock_true = ?3, clock_offset_s = ?4,"
                    " first_at = (SELECT min(at) FROM frames WHERE batch_id = ?1),"
                    " last_at = (SELECT max(at) FROM frames WHERE batch_id = ?1) WHERE id = ?1",
                    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, clock->id);
  tpt_stmt_bind_text (stmt, 2, clock->clock_read);
  tpt_stmt_bind_instant (stmt, 3, clock->clock_true);
  tpt_stmt_bind_double (stmt, 4, clock->clock_offset_s);
  return tpt_stmt_run (stmt, error);
}

static gboolean
replace_pieces (TptStore *self, gint64 batch_id, const TptClockPiece *pieces, gsize n, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "DELETE FROM clock_pieces WHERE batch_id = ?1", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, batch_id);
  return tpt_stmt_run (stmt, error) && tpt_store_add_clock_pieces (self, batch_id, pieces, n, error);
}

gboolean
tpt_store_retime_batch (TptStore *self, const TptBatchClock *clock, const TptRetimed *frames, gsize n,
                        const TptClockPiece *pieces, gsize n_pieces, gint64 *changed, GError **error)
{
  g_autoptr (GHashTable) frame_moves = new_moves ();
  g_autoptr (GHashTable) trigger_moves = new_moves ();
  gint64 moved = 0;

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (!move_frames (self, clock->id, frames, n, frame_moves, &moved, error) ||
      !move_triggers (self, clock->id, trigger_moves, error) ||
      !move_observations (self, clock->id, frame_moves, trigger_moves, error) || !update_batch (self, clock, error) ||
      !replace_pieces (self, clock->id, pieces, n_pieces, error))
    return FALSE;
  if (changed != NULL)
    *changed = moved;
  return TRUE;
}
