/* The project file: one connection, its settings, and the actions that change
 * it.
 *
 * What a write promises. Every change is made inside a #TptAction: one
 * transaction and one entry in the change journal. tpt_action_commit() writes
 * both or neither; an action that is freed without a commit leaves the file as
 * it was, and so does a crash, a full disk or a cancelled statement at any
 * point. Only one action exists at a time per store. Undo and redo are actions
 * too: they apply an entry's change backwards or again, refuse with
 * TPT_ERROR_CONFLICT when what is on record has changed since, and add an
 * entry of their own, so that the journal only grows.
 */
#pragma once

#include "db.h"
#include "tpt-record.h"

G_BEGIN_DECLS

typedef struct _TptStore TptStore;
typedef struct _TptAction TptAction;

/**
 * tpt_store_create:
 * @path: must not exist; never overwritten
 * @name: the project's name
 * @zone: IANA zone
 * @seed: (nullable): names the random identifiers of this store and fixes its
 *   clock at @now, so that the same calls write the same bytes; %NULL for a
 *   real project
 * @now: the moment of creation
 *
 * A failure leaves no file behind.
 */
TptStore *tpt_store_create (const char *path, const char *name, const char *zone, const char *seed, TptInstant now,
                            GError **error);

/**
 * tpt_store_open:
 * @read_only: for looking only; refuses every action
 *
 * An older file is brought to this version in one transaction. A newer one is
 * refused with TPT_ERROR_NEWER and not touched.
 */
TptStore *tpt_store_open (const char *path, gboolean read_only, GError **error);
void tpt_store_close (TptStore *self);

TptDb *tpt_store_get_db (TptStore *self);
const char *tpt_store_get_path (TptStore *self);
/* (transfer none): the folder of the file, from which pictures are found. */
const char *tpt_store_get_folder (TptStore *self);
TptZone *tpt_store_get_zone (TptStore *self);

/* (transfer full): a version-4 UUID, or the next of the store's seed. */
char *tpt_store_new_uuid (TptStore *self);
/* Now, unless the project's clock stands still (setting clock_at, of a demo). */
TptInstant tpt_store_get_now (TptStore *self);

/* Where the project's clock stands still, or %TPT_NO_INSTANT. */
TptInstant tpt_store_get_clock (TptStore *self);

/* Settings of the project: name, zone, independence_min, independence_from,
 * due_threshold, round_at, floor_deg, clock_at. Setting one takes an action. */
char *tpt_store_get_setting (TptStore *self, const char *key);
double tpt_store_get_setting_real (TptStore *self, const char *key, double fallback);
gboolean tpt_store_set_setting (TptStore *self, const char *key, const char *value, GError **error);

/* What is read from here to the release is of one moment, whatever others write
 * meanwhile; they wait. For reading several tables that must fit together. */
gboolean tpt_store_hold (TptStore *self, GError **error);
void tpt_store_release (TptStore *self);

/* A number that differs after any other connection wrote to the file. */
gint64 tpt_store_get_data_version (TptStore *self);

/* One thing worked out from the content of the file, kept with the store for as long as neither
 * this store nor anybody else writes to the file. Ask between hold and release what must fit
 * what is read next. (transfer none) (nullable). */
gpointer tpt_store_get_memo (TptStore *self);
/* Takes @memo, which was made within the same hold. */
void tpt_store_take_memo (TptStore *self, gpointer memo, GDestroyNotify destroy);

/**
 * tpt_action_begin:
 * @what: what the user does, in words for the history ("Record visit at Otter bank")
 */
TptAction *tpt_action_begin (TptStore *store, const char *what, GError **error);

/* Bulk rows (frames, triggers, withdrawn batches) go past the journal: pause,
 * write, resume. What is written meanwhile is kept or lost with the action all
 * the same, but undo does not know it. */
void tpt_action_pause (TptAction *action);
void tpt_action_resume (TptAction *action);

/* What was done since the last mark is undone by returning to it. */
gboolean tpt_action_mark (TptAction *action, GError **error);
gboolean tpt_action_return_to_mark (TptAction *action, GError **error);

gboolean tpt_action_commit (TptAction *action, GError **error);
void tpt_action_free (TptAction *action);

/* (transfer full) (nullable): what the next undo or redo would take back or
 * do again; %NULL when there is nothing. */
char *tpt_store_peek_undo (TptStore *self, GError **error);
char *tpt_store_peek_redo (TptStore *self, GError **error);

/* Returns: %FALSE with TPT_ERROR_CONFLICT, nothing changed; with
 * TPT_ERROR_USAGE when there is nothing to undo. */
gboolean tpt_store_undo (TptStore *self, GError **error);
gboolean tpt_store_redo (TptStore *self, GError **error);

/**
 * tpt_store_check:
 *
 * SQLite's own integrity, foreign keys, the rules of a GeoPackage that this
 * program is answerable for, and the journal.
 *
 * Returns: (transfer container) (element-type utf8): one sentence per problem,
 *   empty when all is well; %NULL with @error when the file cannot be read
 */
GPtrArray *tpt_store_check (TptStore *self, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptStore, tpt_store_close)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptAction, tpt_action_free)

G_END_DECLS
