#include "tpt-project.h"

#include <glib/gstdio.h>
#include <unistd.h>

#include "tpt-store.h"

#define LOOK_EVERY_MS 1000

struct _TptProject {
  GObject parent_instance;

  TptStore *store;      /* (owned): used by the worker only, once it runs */
  GThreadPool *worker;  /* (owned): one thread */
  GThread *at_work;     /* (unowned): that thread, once it has run something */
  char *name;           /* (owned) */
  char *path;           /* (owned) */
  TptZone *zone;        /* (owned) */
  gboolean read_only;
  TptInstant clock_at;  /* where a demo's clock stands, or TPT_NO_INSTANT */

  char *undo_label;     /* (owned) (nullable) */
  char *redo_label;     /* (owned) (nullable) */
  guint look_source;
  gint64 seen_version;  /* worker only: the file's data version at the last look */
};

G_DEFINE_FINAL_TYPE (TptProject, tpt_project, G_TYPE_OBJECT)

enum {
  PROP_0,
  PROP_NAME,
  PROP_PATH,
  PROP_UNDO_LABEL,
  PROP_REDO_LABEL,
  PROP_READ_ONLY,
  N_PROPS,
};

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static GParamSpec *properties[N_PROPS];
static guint signals[N_SIGNALS];

/* What the worker found out about the file, on its way to the main thread. */
typedef struct {
  TptProject *project; /* (owned) */
  char *undo_label;    /* (owned) (nullable) */
  char *redo_label;    /* (owned) (nullable) */
} News;

static void
free_news (gpointer data)
{
  News *news = data;

  g_object_unref (news->project);
  g_free (news->undo_label);
  g_free (news->redo_label);
  g_free (news);
}

static void
take_labels (TptProject *self, News *news)
{
  if (g_strcmp0 (self->undo_label, news->undo_label) != 0)
    {
      g_free (self->undo_label);
      self->undo_label = g_steal_pointer (&news->undo_label);
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_UNDO_LABEL]);
    }
  if (g_strcmp0 (self->redo_label, news->redo_label) != 0)
    {
      g_free (self->redo_label);
      self->redo_label = g_steal_pointer (&news->redo_label);
      g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_REDO_LABEL]);
    }
}

static gboolean
tell_cb (gpointer data)
{
  News *news = data;

  take_labels (news->project, news);
  g_signal_emit (news->project, signals[SIGNAL_CHANGED], 0);
  return G_SOURCE_REMOVE;
}

/* Worker: reads what changed and sends it to the main thread. */
static void
tell_changed (TptProject *self)
{
  News *news = g_new0 (News, 1);

  news->project = g_object_ref (self);
  news->undo_label = tpt_store_peek_undo (self->store, NULL);
  news->redo_label = tpt_store_peek_redo (self->store, NULL);
  g_idle_add_full (G_PRIORITY_DEFAULT, tell_cb, news, free_news);
}

typedef struct {
  TptJob *job; /* (owned) */
} Run;

static void
free_run (gpointer data)
{
  Run *run = data;

  g_object_unref (run->job);
  g_free (run);
}

static gboolean
run_on (TptStore *store, TptJob *job, GCancellable *cancellable, GError **error)
{
  gboolean good;

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  tpt_db_set_cancellable (tpt_store_get_db (store), cancellable);
  good = TPT_JOB_GET_CLASS (job)->run (job, store, cancellable, error);
  tpt_db_set_cancellable (tpt_store_get_db (store), NULL);
  return good;
}

static void
return_outcome (GTask *task, gboolean good, GError *failure)
{
  if (good)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, failure);
}

/* Worker: a look at whether somebody else wrote. */
static void
look (TptProject *self)
{
  gint64 version = tpt_store_get_data_version (self->store);

  if (version == self->seen_version)
    return;
  self->seen_version = version;
  tell_changed (self);
}

/* The worker takes tasks with a job to run; one without is a look. */
static void
work_cb (gpointer data, gpointer user_data)
{
  g_autoptr (GTask) task = data;
  TptProject *self = g_task_get_source_object (task);
  Run *run = g_task_get_task_data (task);
  GError *failure = NULL;
  gboolean good;

  self->at_work = g_thread_self ();
  if (run == NULL)
    {
      look (self);
      g_task_return_boolean (task, TRUE);
      return;
    }

  good = run_on (self->store, run->job, g_task_get_cancellable (task), &failure);
  if (good && TPT_JOB_GET_CLASS (run->job)->writes)
    tell_changed (self);
  return_outcome (task, good, failure);
}

static void
run_lengthy_in_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  TptProject *self = source;
  Run *run = task_data;
  g_autoptr (TptStore) store = NULL;
  GError *failure = NULL;
  gboolean good;

  store = tpt_store_open (self->path, FALSE, &failure);
  good = store != NULL && run_on (store, run->job, cancellable, &failure);
  return_outcome (task, good, failure);
}

static void
push_look (TptProject *self)
{
  GTask *task = g_task_new (self, NULL, NULL, NULL);

  g_task_set_source_tag (task, push_look);
  g_thread_pool_push (self->worker, task, NULL);
}

/* The project may end on its worker while the main thread is about to look. */
static gboolean
look_cb (gpointer data)
{
  g_autoptr (TptProject) self = g_weak_ref_get (data);

  if (self == NULL)
    return G_SOURCE_REMOVE;
  push_look (self);
  return G_SOURCE_CONTINUE;
}

static void
free_weak_ref (gpointer data)
{
  g_weak_ref_clear (data);
  g_free (data);
}

static void
tpt_project_dispose (GObject *object)
{
  TptProject *self = TPT_PROJECT (object);

  g_clear_handle_id (&self->look_source, g_source_remove);
  /* The last reference may go with a task on the worker itself, which cannot
   * wait for its own end. */
  if (self->worker != NULL)
    g_thread_pool_free (g_steal_pointer (&self->worker), FALSE, g_thread_self () != self->at_work);
  g_clear_pointer (&self->store, tpt_store_close);

  G_OBJECT_CLASS (tpt_project_parent_class)->dispose (object);
}

static void
tpt_project_finalize (GObject *object)
{
  TptProject *self = TPT_PROJECT (object);

  g_free (self->name);
  g_free (self->path);
  g_free (self->undo_label);
  g_free (self->redo_label);
  g_clear_pointer (&self->zone, tpt_zone_unref);

  G_OBJECT_CLASS (tpt_project_parent_class)->finalize (object);
}

static void
tpt_project_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TptProject *self = TPT_PROJECT (object);

  switch (id)
    {
    case PROP_NAME:
      g_value_set_string (value, self->name);
      break;
    case PROP_PATH:
      g_value_set_string (value, self->path);
      break;
    case PROP_UNDO_LABEL:
      g_value_set_string (value, self->undo_label);
      break;
    case PROP_REDO_LABEL:
      g_value_set_string (value, self->redo_label);
      break;
    case PROP_READ_ONLY:
      g_value_set_boolean (value, self->read_only);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_project_class_init (TptProjectClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;

  object_class->dispose = tpt_project_dispose;
  object_class->finalize = tpt_project_finalize;
  object_class->get_property = tpt_project_get_property;

  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, NULL, flags);
  properties[PROP_PATH] = g_param_spec_string ("path", NULL, NULL, NULL, flags);
  properties[PROP_UNDO_LABEL] = g_param_spec_string ("undo-label", NULL, NULL, NULL, flags);
  properties[PROP_REDO_LABEL] = g_param_spec_string ("redo-label", NULL, NULL, NULL, flags);
  properties[PROP_READ_ONLY] = g_param_spec_boolean ("read-only", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_project_init (TptProject *self)
{
}

/* Takes over @store. */
static TptProject *
wrap (TptStore *store, gboolean read_only)
{
  TptProject *self = g_object_new (TPT_TYPE_PROJECT, NULL);

  self->store = store;
  self->path = g_strdup (tpt_store_get_path (store));
  self->name = tpt_store_get_setting (store, "name");
  self->zone = tpt_zone_ref (tpt_store_get_zone (store));
  self->read_only = read_only;
  self->clock_at = tpt_store_get_clock (store);
  self->undo_label = tpt_store_peek_undo (store, NULL);
  self->redo_label = tpt_store_peek_redo (store, NULL);
  self->seen_version = tpt_store_get_data_version (store);
  self->worker = g_thread_pool_new (work_cb, NULL, 1, TRUE, NULL);
  return self;
}

TptProject *
tpt_project_create (const char *path, const char *name, const char *zone, GError **error)
{
  TptStore *store = tpt_store_create (path, name, zone, NULL, 0, error);

  return store != NULL ? wrap (store, FALSE) : NULL;
}

TptProject *
tpt_project_open (const char *path, GError **error)
{
  TptStore *store = tpt_store_open (path, FALSE, error);

  return store != NULL ? wrap (store, g_access (path, W_OK) != 0) : NULL;
}

static void
open_in_thread (GTask *task, gpointer source, gpointer task_data, GCancellable *cancellable)
{
  GError *failure = NULL;
  TptProject *project = tpt_project_open (task_data, &failure);

  if (project != NULL)
    g_task_return_pointer (task, project, g_object_unref);
  else
    g_task_return_error (task, failure);
}

void
tpt_project_open_async (const char *path, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);

  g_task_set_source_tag (task, tpt_project_open_async);
  g_task_set_task_data (task, g_strdup (path), g_free);
  g_task_run_in_thread (task, open_in_thread);
}

TptProject *
tpt_project_open_finish (GAsyncResult *result, GError **error)
{
  TptProject *self = g_task_propagate_pointer (G_TASK (result), error);

  if (self != NULL)
    tpt_project_watch (self);
  return self;
}

void
tpt_project_watch (TptProject *self)
{
  GWeakRef *weak;

  if (self->look_source != 0)
    return;
  weak = g_new0 (GWeakRef, 1);
  g_weak_ref_init (weak, self);
  self->look_source = g_timeout_add_full (G_PRIORITY_DEFAULT, LOOK_EVERY_MS, look_cb, weak, free_weak_ref);
}

const char *
tpt_project_get_name (TptProject *self)
{
  return self->name;
}

const char *
tpt_project_get_path (TptProject *self)
{
  return self->path;
}

TptZone *
tpt_project_get_zone (TptProject *self)
{
  return self->zone;
}

TptInstant
tpt_project_get_now (TptProject *self, gboolean *stands)
{
  if (stands != NULL)
    *stands = self->clock_at != TPT_NO_INSTANT;
  return self->clock_at != TPT_NO_INSTANT ? self->clock_at : tpt_instant_now ();
}

gboolean
tpt_project_get_read_only (TptProject *self)
{
  return self->read_only;
}

const char *
tpt_project_get_undo_label (TptProject *self)
{
  return self->undo_label;
}

const char *
tpt_project_get_redo_label (TptProject *self)
{
  return self->redo_label;
}

void
tpt_project_run_async (TptProject *self, TptJob *job, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, data);
  Run *run = g_new0 (Run, 1);

  run->job = g_object_ref (job);
  g_task_set_source_tag (task, tpt_project_run_async);
  g_task_set_task_data (task, run, free_run);
  g_task_set_return_on_cancel (task, FALSE);
  g_task_set_check_cancellable (task, FALSE);
  if (TPT_JOB_GET_CLASS (job)->lengthy)
    {
      g_task_run_in_thread (task, run_lengthy_in_thread);
      return;
    }
  g_thread_pool_push (self->worker, g_steal_pointer (&task), NULL);
}

gboolean
tpt_project_run_finish (TptProject *self, GAsyncResult *result, GError **error)
{
  gboolean good = g_task_propagate_boolean (G_TASK (result), error);
  Run *run = g_task_get_task_data (G_TASK (result));

  /* A lengthy job wrote through a connection of its own: look now. */
  if (good && TPT_JOB_GET_CLASS (run->job)->lengthy && TPT_JOB_GET_CLASS (run->job)->writes)
    push_look (self);
  return good;
}

TptJob *
tpt_project_get_job (GAsyncResult *result)
{
  Run *run = g_task_get_task_data (G_TASK (result));

  return run->job;
}

static void
keep_result_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  GAsyncResult **kept = data;

  *kept = g_object_ref (result);
}

gboolean
tpt_project_run (TptProject *self, TptJob *job, GCancellable *cancellable, GError **error)
{
  g_autoptr (GMainContext) context = g_main_context_new ();
  g_autoptr (GAsyncResult) result = NULL;

  g_main_context_push_thread_default (context);
  tpt_project_run_async (self, job, cancellable, keep_result_cb, &result);
  while (result == NULL)
    g_main_context_iteration (context, TRUE);
  g_main_context_pop_thread_default (context);
  return tpt_project_run_finish (self, result, error);
}
