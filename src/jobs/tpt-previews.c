#include "tpt-previews.h"

#include "tpt-previews-private.h"

struct _TptPreviews {
  GObject parent;

  TptPreviewEngine *engine; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptPreviews, tpt_previews, G_TYPE_OBJECT)

static void
unref_waiter_cb (gpointer data)
{
  tpt_preview_waiter_unref (data);
}

/* The cancellable holds the waiter and the waiter's task the cancellable: here
 * they part. */
static gboolean
tell_cancelled_cb (gpointer data)
{
  TptPreviewWaiter *waiter = data;

  g_cancellable_disconnect (g_task_get_cancellable (waiter->task), waiter->cancelled_id);
  g_task_return_new_error (waiter->task, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
  return G_SOURCE_REMOVE;
}

/* Later, so that whoever cancels is not called back while doing so. */
static void
tell_cancelled_later (TptPreviewWaiter *waiter)
{
  g_autoptr (GSource) source = g_idle_source_new ();

  g_source_set_priority (source, g_task_get_priority (waiter->task));
  g_source_set_callback (source, tell_cancelled_cb, tpt_preview_waiter_ref (waiter), unref_waiter_cb);
  g_source_attach (source, g_task_get_context (waiter->task));
}

static void
cancelled_cb (GCancellable *cancellable, gpointer data)
{
  TptPreviewWaiter *waiter = data;
  TptPreviewEngine *engine = waiter->engine;
  TptPreviewWish *wish;
  gboolean in_line;

  g_mutex_lock (&engine->lock);
  if (waiter->done)
    {
      g_mutex_unlock (&engine->lock);
      return;
    }
  waiter->done = TRUE;
  wish = g_steal_pointer (&waiter->wish);
  in_line = wish != NULL && g_ptr_array_remove (wish->waiters, waiter);
  if (wish != NULL && wish->waiters->len == 0 && !wish->running)
    tpt_preview_line_end (&engine->line, wish);
  g_mutex_unlock (&engine->lock);

  tell_cancelled_later (waiter);
  if (in_line)
    tpt_preview_waiter_unref (waiter);
}

static TptPreviewWaiter *
new_waiter (TptPreviewEngine *engine, GTask *task)
{
  TptPreviewWaiter *waiter = g_new0 (TptPreviewWaiter, 1);
  GCancellable *cancellable = g_task_get_cancellable (task);

  g_atomic_ref_count_init (&waiter->references);
  waiter->engine = tpt_preview_engine_ref (engine);
  waiter->task = g_object_ref (task);
  if (cancellable != NULL)
    waiter->cancelled_id =
      g_cancellable_connect (cancellable, G_CALLBACK (cancelled_cb), tpt_preview_waiter_ref (waiter), unref_waiter_cb);
  return waiter;
}

/* With the lock held. */
static void
stand_in_line (TptPreviewEngine *engine, TptPreviewWaiter *waiter, const char *path, const char *key, int size)
{
  g_autofree char *name = tpt_preview_name (key, size);

  waiter->wish = tpt_preview_line_want (&engine->line, name, path, key, size, FALSE);
  g_ptr_array_add (waiter->wish->waiters, tpt_preview_waiter_ref (waiter));
  if (!waiter->wish->running)
    tpt_preview_engine_wake (engine);
}

static TptPicture *
peek_locked (TptPreviewEngine *engine, const char *key, int size)
{
  g_autofree char *name = tpt_preview_name (key, size);

  return tpt_preview_stock_find (&engine->stock, name);
}

static void
tpt_previews_finalize (GObject *object)
{
  TptPreviewEngine *engine = TPT_PREVIEWS (object)->engine;

  g_mutex_lock (&engine->lock);
  engine->closed = TRUE;
  tpt_preview_line_forget_ahead (&engine->line);
  g_mutex_unlock (&engine->lock);
  tpt_preview_engine_unref (engine);
  G_OBJECT_CLASS (tpt_previews_parent_class)->finalize (object);
}

static void
tpt_previews_class_init (TptPreviewsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_previews_finalize;
}

static void
tpt_previews_init (TptPreviews *self)
{
}

TptPreviews *
tpt_previews_new (const char *folder, gsize memory, guint64 disk)
{
  TptPreviews *self = g_object_new (TPT_TYPE_PREVIEWS, NULL);

  self->engine = tpt_preview_engine_new (folder, memory, disk);
  return self;
}

TptPreviews *
tpt_previews_get_default (void)
{
  static TptPreviews *shared;

  if (shared == NULL)
    shared = tpt_previews_new (NULL, 0, 0);
  return shared;
}

TptPicture *
tpt_previews_peek (TptPreviews *self, const char *path, const char *key, int size)
{
  TptPicture *picture;

  g_return_val_if_fail (TPT_IS_PREVIEWS (self) && key != NULL, NULL);

  g_mutex_lock (&self->engine->lock);
  picture = peek_locked (self->engine, key, size);
  g_mutex_unlock (&self->engine->lock);
  return picture;
}

void
tpt_previews_load_async (TptPreviews *self, const char *path, const char *key, int size, GCancellable *cancellable,
                         GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr (GTask) task = g_task_new (self, cancellable, callback, data);
  TptPreviewWaiter *waiter;
  TptPicture *picture;

  g_return_if_fail (TPT_IS_PREVIEWS (self) && path != NULL && key != NULL && size >= 0);

  g_task_set_source_tag (task, tpt_previews_load_async);
  waiter = new_waiter (self->engine, task);
  g_mutex_lock (&self->engine->lock);
  picture = waiter->done ? NULL : peek_locked (self->engine, key, size);
  if (picture != NULL)
    waiter->done = TRUE;
  else if (!waiter->done)
    stand_in_line (self->engine, waiter, path, key, size);
  g_mutex_unlock (&self->engine->lock);

  if (picture != NULL)
    {
      g_cancellable_disconnect (cancellable, waiter->cancelled_id);
      g_task_return_pointer (task, picture, (GDestroyNotify) tpt_picture_unref);
    }
  tpt_preview_waiter_unref (waiter);
}

TptPicture *
tpt_previews_load_finish (TptPreviews *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), NULL);
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
tpt_previews_ahead (TptPreviews *self, const char *const *paths, const char *const *keys, guint n, int size)
{
  TptPreviewEngine *engine = self->engine;

  g_return_if_fail (TPT_IS_PREVIEWS (self) && size >= 0);

  g_mutex_lock (&engine->lock);
  tpt_preview_line_forget_ahead (&engine->line);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = tpt_preview_name (keys[i], size);
      g_autoptr (TptPicture) picture = tpt_preview_stock_find (&engine->stock, name);

      if (picture == NULL)
        tpt_preview_line_want (&engine->line, name, paths[i], keys[i], size, TRUE);
    }
  for (guint i = 0; i < MIN (engine->line.ahead.length, tpt_preview_engine_get_most_ahead (engine)); i++)
    tpt_preview_engine_wake (engine);
  g_mutex_unlock (&engine->lock);
}

gsize
tpt_previews_get_memory (TptPreviews *self, gsize *most)
{
  gsize bytes;

  g_mutex_lock (&self->engine->lock);
  bytes = self->engine->stock.bytes;
  if (most != NULL)
    *most = self->engine->stock.peak;
  g_mutex_unlock (&self->engine->lock);
  return bytes;
}
