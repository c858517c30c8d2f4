#include "tpt-previews.h"

#include <string.h>

#include "tpt-preview-cache.h"
#include "tpt-preview.h"
#include "tpt-previews-private.h"

#define DEFAULT_MEMORY ((gsize) 192 << 20)
#define MOST_THREADS 8

/* What the threads share; it outlives the object while they work. */
typedef struct {
  gatomicrefcount references;
  GThreadPool *pool;      /* (owned) */
  TptPreviewCache *cache; /* (owned) */
  guint n_threads;

  GMutex lock; /* guards what follows; never held while a file is read */
  TptPreviewStock stock;
  TptPreviewLine line;
  guint n_working;
  gboolean closed;
} Engine;

struct _TptPreviews {
  GObject parent;

  Engine *engine; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptPreviews, tpt_previews, G_TYPE_OBJECT)

/* Engine.lock guards @wish and @done. */
struct _TptPreviewWaiter {
  gatomicrefcount references;
  Engine *engine; /* (owned) */
  GTask *task;    /* (owned) */
  gulong cancelled_id;
  TptPreviewWish *wish; /* (unowned) (nullable): NULL before it is in line and when it is done */
  gboolean done;
};

/* The picture, reference counted behind its public part. */
typedef struct {
  TptPicture picture;
  gatomicrefcount references;
} Counted;

G_DEFINE_BOXED_TYPE (TptPicture, tpt_picture, tpt_picture_ref, tpt_picture_unref)

TptPicture *
tpt_picture_ref (TptPicture *self)
{
  g_atomic_ref_count_inc (&((Counted *) self)->references);
  return self;
}

void
tpt_picture_unref (TptPicture *self)
{
  if (!g_atomic_ref_count_dec (&((Counted *) self)->references))
    return;
  g_bytes_unref (self->pixels);
  g_free (self);
}

/* @pixels: (transfer full) */
static TptPicture *
new_picture (TptPixels *pixels)
{
  Counted *counted = g_new0 (Counted, 1);

  g_atomic_ref_count_init (&counted->references);
  counted->picture = (TptPicture) {
    .pixels = g_bytes_new_take (g_steal_pointer (&pixels->data), (gsize) pixels->stride * pixels->height),
    .width = pixels->width,
    .height = pixels->height,
    .stride = pixels->stride,
    .full_width = pixels->full_width,
    .full_height = pixels->full_height,
    .partial = pixels->partial,
  };
  tpt_pixels_free (pixels);
  return &counted->picture;
}

/* The same pixels, as the folder below knows them; only to look at. */
static TptPixels
view_pixels (const TptPicture *picture)
{
  return (TptPixels) {
    .data = (guint8 *) g_bytes_get_data (picture->pixels, NULL),
    .width = picture->width,
    .height = picture->height,
    .stride = picture->stride,
    .full_width = picture->full_width,
    .full_height = picture->full_height,
    .partial = picture->partial,
  };
}

static Engine *
engine_ref (Engine *engine)
{
  g_atomic_ref_count_inc (&engine->references);
  return engine;
}

static void
engine_unref (Engine *engine)
{
  if (!g_atomic_ref_count_dec (&engine->references))
    return;
  g_thread_pool_free (engine->pool, FALSE, FALSE);
  tpt_preview_line_clear (&engine->line);
  tpt_preview_stock_clear (&engine->stock);
  tpt_preview_cache_free (engine->cache);
  g_mutex_clear (&engine->lock);
  g_free (engine);
}

static TptPreviewWaiter *
waiter_ref (TptPreviewWaiter *waiter)
{
  g_atomic_ref_count_inc (&waiter->references);
  return waiter;
}

static void
waiter_unref (TptPreviewWaiter *waiter)
{
  if (!g_atomic_ref_count_dec (&waiter->references))
    return;
  g_object_unref (waiter->task);
  engine_unref (waiter->engine);
  g_free (waiter);
}

static char *
name_wish (const char *key, int size)
{
  return g_strdup_printf ("%d %s", size, key);
}

/* (transfer full) (nullable): out of the large picture, when that is in memory. */
static TptPixels *
shrink_large (Engine *engine, const char *key, int size)
{
  g_autofree char *name = name_wish (key, TPT_PREVIEW_LARGE);
  g_autoptr (TptPicture) large = NULL;
  TptPixels *copy;
  TptPixels view;

  if (size <= 0 || size > TPT_PREVIEW_LARGE / 2)
    return NULL;
  g_mutex_lock (&engine->lock);
  large = tpt_preview_stock_find (&engine->stock, name);
  g_mutex_unlock (&engine->lock);
  if (large == NULL)
    return NULL;

  view = view_pixels (large);
  copy = g_memdup2 (&view, sizeof view);
  copy->data = g_memdup2 (view.data, (gsize) view.stride * view.height);
  return tpt_pixels_shrink (copy, size);
}

/* (transfer full) (nullable): @fresh when it is not yet on disk. */
static TptPicture *
make_picture (Engine *engine, const TptPreviewWish *wish, gboolean *fresh, GError **error)
{
  TptPixels *pixels = tpt_preview_cache_find (engine->cache, wish->key, wish->size);

  *fresh = pixels == NULL;
  if (pixels == NULL)
    pixels = shrink_large (engine, wish->key, wish->size);
  if (pixels == NULL)
    pixels = tpt_preview_decode (wish->path, wish->size, error);
  return pixels != NULL ? new_picture (pixels) : NULL;
}

/* Remembers what was made, and takes the wish off the list. (transfer full): who
 * waited for it. */
static GPtrArray *
end_wish (Engine *engine, TptPreviewWish *wish, TptPicture *picture)
{
  GPtrArray *waiters = g_ptr_array_ref (wish->waiters);

  for (guint i = 0; i < waiters->len; i++)
    {
      TptPreviewWaiter *waiter = g_ptr_array_index (waiters, i);

      waiter->done = TRUE;
      waiter->wish = NULL;
    }
  if (picture != NULL)
    tpt_preview_stock_add (&engine->stock, wish->name, picture);
  tpt_preview_line_end (&engine->line, wish);
  return waiters;
}

/* Not under the lock: a cancellation on its way takes it, and is waited for. */
static void
answer (GPtrArray *waiters, TptPicture *picture, const GError *error)
{
  for (guint i = 0; i < waiters->len; i++)
    {
      TptPreviewWaiter *waiter = g_ptr_array_index (waiters, i);

      g_cancellable_disconnect (g_task_get_cancellable (waiter->task), waiter->cancelled_id);
      if (picture != NULL)
        g_task_return_pointer (waiter->task, tpt_picture_ref (picture), (GDestroyNotify) tpt_picture_unref);
      else
        g_task_return_error (waiter->task, g_error_copy (error));
      waiter_unref (waiter);
    }
}

/* Enters and leaves with the lock held. */
static void
fulfil (Engine *engine, TptPreviewWish *wish)
{
  g_autofree char *key = g_strdup (wish->key);
  g_autoptr (TptPicture) picture = NULL;
  g_autoptr (GPtrArray) waiters = NULL;
  g_autoptr (GError) error = NULL;
  int size = wish->size;
  gboolean fresh;

  g_mutex_unlock (&engine->lock);
  picture = make_picture (engine, wish, &fresh, &error);
  g_mutex_lock (&engine->lock);
  waiters = end_wish (engine, wish, picture);
  g_mutex_unlock (&engine->lock);

  answer (waiters, picture, error);
  if (picture != NULL && fresh)
    {
      TptPixels view = view_pixels (picture);

      tpt_preview_cache_keep (engine->cache, key, size, &view);
    }
  g_mutex_lock (&engine->lock);
}

static guint
get_most_ahead (const Engine *engine)
{
  return engine->n_threads - 1;
}

static void
work_cb (gpointer data, gpointer unused)
{
  Engine *engine = data;
  TptPreviewWish *wish;

  g_mutex_lock (&engine->lock);
  while (!engine->closed && (wish = tpt_preview_line_take (&engine->line, get_most_ahead (engine))) != NULL)
    fulfil (engine, wish);
  engine->n_working--;
  g_mutex_unlock (&engine->lock);
  engine_unref (engine);
}

/* With the lock held, after something was put in line. */
static void
wake_thread (Engine *engine)
{
  if (engine->n_working >= engine->n_threads)
    return;
  engine->n_working++;
  g_thread_pool_push (engine->pool, engine_ref (engine), NULL);
}

static gboolean
tell_cancelled_cb (gpointer data)
{
  g_task_return_new_error (data, G_IO_ERROR, G_IO_ERROR_CANCELLED, "Cancelled");
  return G_SOURCE_REMOVE;
}

/* Later, so that whoever cancels is not called back while doing so. */
static void
tell_cancelled_later (GTask *task)
{
  g_autoptr (GSource) source = g_idle_source_new ();

  g_source_set_priority (source, g_task_get_priority (task));
  g_source_set_callback (source, tell_cancelled_cb, g_object_ref (task), g_object_unref);
  g_source_attach (source, g_task_get_context (task));
}

static void
cancelled_cb (GCancellable *cancellable, gpointer data)
{
  TptPreviewWaiter *waiter = data;
  Engine *engine = waiter->engine;
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

  tell_cancelled_later (waiter->task);
  if (in_line)
    waiter_unref (waiter);
}

static void
unref_waiter_cb (gpointer data)
{
  waiter_unref (data);
}

static TptPreviewWaiter *
new_waiter (Engine *engine, GTask *task)
{
  TptPreviewWaiter *waiter = g_new0 (TptPreviewWaiter, 1);
  GCancellable *cancellable = g_task_get_cancellable (task);

  g_atomic_ref_count_init (&waiter->references);
  waiter->engine = engine_ref (engine);
  waiter->task = g_object_ref (task);
  if (cancellable != NULL)
    waiter->cancelled_id =
      g_cancellable_connect (cancellable, G_CALLBACK (cancelled_cb), waiter_ref (waiter), unref_waiter_cb);
  return waiter;
}

/* With the lock held. */
static void
stand_in_line (Engine *engine, TptPreviewWaiter *waiter, const char *path, const char *key, int size)
{
  g_autofree char *name = name_wish (key, size);

  waiter->wish = tpt_preview_line_want (&engine->line, name, path, key, size, FALSE);
  g_ptr_array_add (waiter->wish->waiters, waiter_ref (waiter));
  if (!waiter->wish->running)
    wake_thread (engine);
}

static TptPicture *
peek_locked (Engine *engine, const char *key, int size)
{
  g_autofree char *name = name_wish (key, size);

  return tpt_preview_stock_find (&engine->stock, name);
}

static void
tpt_previews_finalize (GObject *object)
{
  Engine *engine = TPT_PREVIEWS (object)->engine;

  g_mutex_lock (&engine->lock);
  engine->closed = TRUE;
  tpt_preview_line_forget_ahead (&engine->line);
  g_mutex_unlock (&engine->lock);
  engine_unref (engine);
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
  Engine *engine = g_new0 (Engine, 1);

  g_atomic_ref_count_init (&engine->references);
  g_mutex_init (&engine->lock);
  engine->n_threads = CLAMP (g_get_num_processors (), 2, MOST_THREADS);
  engine->pool = g_thread_pool_new (work_cb, NULL, (int) engine->n_threads, FALSE, NULL);
  tpt_preview_line_init (&engine->line);
  self->engine = engine;
}

TptPreviews *
tpt_previews_new (const char *folder, gsize memory, guint64 disk)
{
  TptPreviews *self = g_object_new (TPT_TYPE_PREVIEWS, NULL);

  tpt_preview_stock_init (&self->engine->stock, memory != 0 ? memory : DEFAULT_MEMORY);
  self->engine->cache = tpt_preview_cache_new (folder, disk);
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
  waiter_unref (waiter);
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
  Engine *engine = self->engine;

  g_return_if_fail (TPT_IS_PREVIEWS (self) && size >= 0);

  g_mutex_lock (&engine->lock);
  tpt_preview_line_forget_ahead (&engine->line);
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *name = name_wish (keys[i], size);
      g_autoptr (TptPicture) picture = tpt_preview_stock_find (&engine->stock, name);

      if (picture == NULL)
        tpt_preview_line_want (&engine->line, name, paths[i], keys[i], size, TRUE);
    }
  for (guint i = 0; i < MIN (engine->line.ahead.length, get_most_ahead (engine)); i++)
    wake_thread (engine);
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
