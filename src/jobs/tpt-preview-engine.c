/* The threads that make pictures, and what they share. */
#include "tpt-preview.h"
#include "tpt-previews-private.h"

#define DEFAULT_MEMORY ((gsize) 192 << 20)
#define MOST_THREADS 8

TptPreviewEngine *
tpt_preview_engine_ref (TptPreviewEngine *engine)
{
  g_atomic_ref_count_inc (&engine->references);
  return engine;
}

void
tpt_preview_engine_unref (TptPreviewEngine *engine)
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

TptPreviewWaiter *
tpt_preview_waiter_ref (TptPreviewWaiter *waiter)
{
  g_atomic_ref_count_inc (&waiter->references);
  return waiter;
}

void
tpt_preview_waiter_unref (TptPreviewWaiter *waiter)
{
  if (!g_atomic_ref_count_dec (&waiter->references))
    return;
  g_object_unref (waiter->task);
  tpt_preview_engine_unref (waiter->engine);
  g_free (waiter);
}

char *
tpt_preview_name (const char *key, int size)
{
  return g_strdup_printf ("%d %s", size, key);
}

/* (transfer full) (nullable): out of the large picture, when that is in memory. */
static TptPixels *
shrink_large (TptPreviewEngine *engine, const char *key, int size)
{
  g_autofree char *name = tpt_preview_name (key, TPT_PREVIEW_LARGE);
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

  view = tpt_picture_view (large);
  copy = g_memdup2 (&view, sizeof view);
  copy->data = g_memdup2 (view.data, (gsize) view.stride * view.height);
  return tpt_pixels_shrink (copy, size);
}

/* (transfer full) (nullable): @fresh when it is not yet on disk. */
static TptPicture *
make_picture (TptPreviewEngine *engine, const TptPreviewWish *wish, gboolean *fresh, GError **error)
{
  TptPixels *pixels = tpt_preview_cache_find (engine->cache, wish->key, wish->size);

  *fresh = pixels == NULL;
  if (pixels == NULL)
    pixels = shrink_large (engine, wish->key, wish->size);
  if (pixels == NULL)
    pixels = tpt_preview_decode (wish->path, wish->size, error);
  return pixels != NULL ? tpt_picture_new (pixels) : NULL;
}

/* Remembers what was made, and takes the wish off the list. (transfer full): who
 * waited for it. */
static GPtrArray *
end_wish (TptPreviewEngine *engine, TptPreviewWish *wish, TptPicture *picture)
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
      tpt_preview_waiter_unref (waiter);
    }
}

/* Enters and leaves with the lock held. */
static void
fulfil (TptPreviewEngine *engine, TptPreviewWish *wish)
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
      TptPixels view = tpt_picture_view (picture);

      tpt_preview_cache_keep (engine->cache, key, size, &view);
    }
  g_mutex_lock (&engine->lock);
}

guint
tpt_preview_engine_get_most_ahead (const TptPreviewEngine *engine)
{
  return engine->n_threads - 1;
}

static void
work_cb (gpointer data, gpointer unused)
{
  TptPreviewEngine *engine = data;
  TptPreviewWish *wish;

  g_mutex_lock (&engine->lock);
  while (!engine->closed && (wish = tpt_preview_line_take (&engine->line, tpt_preview_engine_get_most_ahead (engine))) != NULL)
    fulfil (engine, wish);
  engine->n_working--;
  g_mutex_unlock (&engine->lock);
  tpt_preview_engine_unref (engine);
}

TptPreviewEngine *
tpt_preview_engine_new (const char *folder, gsize memory, guint64 disk)
{
  TptPreviewEngine *engine = g_new0 (TptPreviewEngine, 1);

  g_atomic_ref_count_init (&engine->references);
  g_mutex_init (&engine->lock);
  engine->n_threads = CLAMP (g_get_num_processors (), 2, MOST_THREADS);
  engine->pool = g_thread_pool_new (work_cb, NULL, (int) engine->n_threads, FALSE, NULL);
  engine->cache = tpt_preview_cache_new (folder, disk);
  tpt_preview_stock_init (&engine->stock, memory != 0 ? memory : DEFAULT_MEMORY);
  tpt_preview_line_init (&engine->line);
  return engine;
}

void
tpt_preview_engine_wake (TptPreviewEngine *engine)
{
  if (engine->n_working >= engine->n_threads)
    return;
  engine->n_working++;
  g_thread_pool_push (engine->pool, tpt_preview_engine_ref (engine), NULL);
}
