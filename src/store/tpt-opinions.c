#include "config.h"

#include "tpt-opinions.h"

#include "tpt-store-private.h"

gboolean
tpt_store_read_trigger (TptStore *self, gint64 trigger_id, TptTriggerFacts *facts, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "SELECT t.id, t.deployment_id, t.start_at, t.end_at FROM triggers t"
                    " JOIN batches b ON b.id = t.batch_id WHERE t.id = ?1 AND t.frames > 0 AND b.active",
                    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, trigger_id);
  if (!tpt_stmt_next (stmt, error))
    return FALSE;
  *facts = (TptTriggerFacts){ tpt_stmt_int (stmt, 0), tpt_stmt_int (stmt, 1), tpt_stmt_instant (stmt, 2),
                              tpt_stmt_instant (stmt, 3) };
  return TRUE;
}

static void
clear_opinion (gpointer data)
{
  TptOpinion *opinion = data;

  g_free (opinion->observation);
  g_free (opinion->type);
  g_free (opinion->species);
  g_free (opinion->sex);
  g_free (opinion->life_stage);
  g_free (opinion->behaviour);
  g_free (opinion->individual);
  g_free (opinion->notes);
  g_free (opinion->by);
}

static void
fill_opinion (TptStmt *stmt, gpointer row)
{
  *(TptOpinion *) row = (TptOpinion){
    .id = tpt_stmt_int (stmt, 0),
    .observation = g_strdup (tpt_stmt_text (stmt, 1)),
    .type = g_strdup (tpt_stmt_text (stmt, 2)),
    .species_id = tpt_stmt_int (stmt, 3),
    .species = g_strdup (tpt_stmt_text (stmt, 4)),
    .count = (int) tpt_stmt_int (stmt, 5),
    .sex = g_strdup (tpt_stmt_text (stmt, 6)),
    .life_stage = g_strdup (tpt_stmt_text (stmt, 7)),
    .behaviour = g_strdup (tpt_stmt_text (stmt, 8)),
    .individual = g_strdup (tpt_stmt_text (stmt, 9)),
    .notes = g_strdup (tpt_stmt_text (stmt, 10)),
    .certainty = tpt_stmt_double (stmt, 11),
    .by = g_strdup (tpt_stmt_text (stmt, 12)),
    .at = tpt_stmt_instant (stmt, 13),
    .opinion = (int) MAX (tpt_stmt_int (stmt, 14), 1),
  };
}

#define OPINION_SQL \
  "SELECT o.id, o.observation, o.type, o.species_id, p.scientific_name, o.count, o.sex, o.life_stage, o.behaviour," \
  " o.individual, o.notes, o.certainty, o.identified_by, o.identified_at, o.opinion" \
  " FROM observations o LEFT JOIN species p ON p.id = o.species_id WHERE "
#define OPINION_ORDER " ORDER BY max(coalesce(o.opinion, 1), 1), o.observation"

static GArray *
read_opinions (TptStore *self, const char *sql, gint64 id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, sql, error);
  GArray *rows;

  if (stmt != NULL)
    tpt_stmt_bind_int (stmt, 1, id);
  rows = tpt_store_read_rows (stmt, sizeof (TptOpinion), fill_opinion, error);
  if (rows != NULL)
    g_array_set_clear_func (rows, clear_opinion);
  return rows;
}

GArray *
tpt_store_read_opinions (TptStore *self, gint64 trigger_id, GError **error)
{
  return read_opinions (self,
                        OPINION_SQL "o.id IN (SELECT id FROM observations WHERE trigger_id = ?1 UNION ALL"
                                    " SELECT e.id FROM frames f JOIN observations e ON e.frame_id = f.id WHERE f.trigger_id = ?1)"
                                    OPINION_ORDER,
                        trigger_id, error);
}

GArray *
tpt_store_read_frame_opinions (TptStore *self, gint64 frame_id, GError **error)
{
  return read_opinions (self, OPINION_SQL "o.frame_id = ?1" OPINION_ORDER, frame_id, error);
}

/* Ten digits of the row's random identifier: short, and not the same in two
 * copies of a project that are brought together later. */
static char *
make_code (TptStore *self, const char *uuid, GError **error)
{
  g_autofree char *code = g_strdup_printf ("%.8s%.2s", uuid, uuid + 9);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "SELECT 1 FROM observations WHERE observation = ?1", error);
  GError *failure = NULL;

  if (stmt == NULL)
    return NULL;
  tpt_stmt_bind_text (stmt, 1, code);
  if (tpt_stmt_next (stmt, &failure))
    return g_strdup (uuid);
  if (failure == NULL)
    return g_steal_pointer (&code);
  g_propagate_error (error, failure);
  return NULL;
}

static void
bind_or_null (TptStmt *stmt, int parameter, gint64 value)
{
  if (value != 0)
    tpt_stmt_bind_int (stmt, parameter, value);
  else
    tpt_stmt_bind_null (stmt, parameter);
}

static void
bind_opinion (TptStmt *stmt, const TptTriggerFacts *trigger, const TptOpinion *opinion)
{
  tpt_stmt_bind_int (stmt, 3, trigger->deployment_id);
  tpt_stmt_bind_int (stmt, 4, trigger->id);
  tpt_stmt_bind_instant (stmt, 5, trigger->start);
  tpt_stmt_bind_instant (stmt, 6, trigger->end);
  tpt_stmt_bind_text (stmt, 7, opinion->type);
  bind_or_null (stmt, 8, opinion->species_id);
  bind_or_null (stmt, 9, opinion->count);
  tpt_stmt_bind_text (stmt, 10, opinion->sex);
  tpt_stmt_bind_text (stmt, 11, opinion->life_stage);
  tpt_stmt_bind_text (stmt, 12, opinion->behaviour);
  tpt_stmt_bind_text (stmt, 13, opinion->individual);
  tpt_stmt_bind_text (stmt, 14, opinion->notes);
  tpt_stmt_bind_double (stmt, 15, opinion->certainty);
  tpt_stmt_bind_text (stmt, 16, opinion->by);
  tpt_stmt_bind_instant (stmt, 17, opinion->at);
  tpt_stmt_bind_int (stmt, 18, opinion->opinion);
}

static gboolean
add_opinion (TptStore *self, const TptTriggerFacts *trigger, const TptOpinion *opinion, GError **error)
{
  g_autofree char *uuid = tpt_store_new_uuid (self);
  g_autofree char *code = make_code (self, uuid, error);
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "INSERT INTO observations (uuid, observation, deployment_id, trigger_id, start_at, end_at, type, species_id,"
                    " count, sex, life_stage, behaviour, individual, notes, certainty, identified_by, identified_at, opinion)"
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18)",
                    error);

  if (code == NULL || stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, uuid);
  tpt_stmt_bind_text (stmt, 2, code);
  bind_opinion (stmt, trigger, opinion);
  return tpt_stmt_run (stmt, error);
}

static gboolean
change_opinion (TptStore *self, const TptTriggerFacts *trigger, const TptOpinion *opinion, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db,
                    "UPDATE observations SET deployment_id = ?3, trigger_id = ?4, start_at = ?5, end_at = ?6, type = ?7,"
                    " species_id = ?8, count = ?9, sex = ?10, life_stage = ?11, behaviour = ?12, individual = ?13, notes = ?14,"
                    " certainty = ?15, identified_by = ?16, identified_at = ?17, opinion = ?18 WHERE id = ?1",
                    error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, opinion->id);
  bind_opinion (stmt, trigger, opinion);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_store_put_opinion (TptStore *self, const TptTriggerFacts *trigger, const TptOpinion *opinion, GError **error)
{
  g_return_val_if_fail (self->action != NULL, FALSE);

  return opinion->id != 0 ? change_opinion (self, trigger, opinion, error) : add_opinion (self, trigger, opinion, error);
}

gboolean
tpt_store_drop_opinion (TptStore *self, gint64 id, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "DELETE FROM observations WHERE id = ?1", error);

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, id);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_store_number_opinion (TptStore *self, gint64 id, int opinion, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "UPDATE observations SET opinion = ?2 WHERE id = ?1", error);

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, id);
  tpt_stmt_bind_int (stmt, 2, opinion);
  return tpt_stmt_run (stmt, error);
}

static gboolean
is_marked (TptStore *self, gint64 frame_id, const char *mark, gboolean *marked, GError **error)
{
  g_autoptr (TptStmt) stmt =
    tpt_db_prepare (self->db, "SELECT count(*) FROM frame_marks WHERE frame_id = ?1 AND mark = ?2", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, frame_id);
  tpt_stmt_bind_text (stmt, 2, mark);
  if (!tpt_stmt_next (stmt, error))
    return FALSE;
  *marked = tpt_stmt_int (stmt, 0) > 0;
  return TRUE;
}

/* A frame that is gone gets no mark. */
static gboolean
add_mark (TptStore *self, gint64 frame_id, const char *mark, const char *by, GError **error)
{
  g_autofree char *uuid = tpt_store_new_uuid (self);
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db,
                                             "INSERT INTO frame_marks (uuid, frame_id, mark, by_whom, at)"
                                             " SELECT ?1, f.id, ?3, ?4, ?5 FROM frames f WHERE f.id = ?2",
                                             error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_text (stmt, 1, uuid);
  tpt_stmt_bind_int (stmt, 2, frame_id);
  tpt_stmt_bind_text (stmt, 3, mark);
  tpt_stmt_bind_text (stmt, 4, by);
  tpt_stmt_bind_instant (stmt, 5, tpt_store_get_now (self));
  return tpt_stmt_run (stmt, error);
}

static gboolean
remove_mark (TptStore *self, gint64 frame_id, const char *mark, GError **error)
{
  g_autoptr (TptStmt) stmt = tpt_db_prepare (self->db, "DELETE FROM frame_marks WHERE frame_id = ?1 AND mark = ?2", error);

  if (stmt == NULL)
    return FALSE;
  tpt_stmt_bind_int (stmt, 1, frame_id);
  tpt_stmt_bind_text (stmt, 2, mark);
  return tpt_stmt_run (stmt, error);
}

gboolean
tpt_store_mark_frame (TptStore *self, gint64 frame_id, const char *mark, gboolean on, const char *by, gboolean *changed,
                      GError **error)
{
  gboolean marked = FALSE;

  g_return_val_if_fail (self->action != NULL, FALSE);

  if (!is_marked (self, frame_id, mark, &marked, error))
    return FALSE;
  *changed = marked != !!on;
  if (!*changed)
    return TRUE;
  return on ? add_mark (self, frame_id, mark, by, error) : remove_mark (self, frame_id, mark, error);
}
