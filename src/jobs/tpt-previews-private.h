/* What is remembered, what is to be done, and who does it: the parts of TptPreviews. */
#pragma once

#include "tpt-pixels.h"
#include "tpt-preview-cache.h"
#include "tpt-previews.h"

G_BEGIN_DECLS

/* @pixels: (transfer full) */
TptPicture *tpt_picture_new (TptPixels *pixels);

/* The same pixels, as the folder below knows them; only to look at. */
TptPixels tpt_picture_view (const TptPicture *picture);

/* Pictures in memory, the least recently used forgotten first. Not locked: its
 * owner does that. */
typedef struct {
  GHashTable *entries; /* (owned) (element-type utf8 entry) */
  GQueue used;         /* entries, most recently used first */
  gsize most;          /* bytes of pixels that may be here */
  gsize bytes;
  gsize peak; /* the most that ever were */
} TptPreviewStock;

void tpt_preview_stock_init (TptPreviewStock *stock, gsize most);
void tpt_preview_stock_clear (TptPreviewStock *stock);
/* (transfer full) (nullable) */
TptPicture *tpt_preview_stock_find (TptPreviewStock *stock, const char *name);
void tpt_preview_stock_add (TptPreviewStock *stock, const char *name, TptPicture *picture);

/* Somebody who waits. */
typedef struct _TptPreviewWaiter TptPreviewWaiter;

/**
 * TptPreviewWish: one picture at one size that somebody waits for, or that is
 * to be decoded ahead.
 * @name: (owned): of picture and size
 * @path: (owned):
 * @key: (owned):
 * @size: see tpt-previews.h
 * @ahead: whether it is in line to be decoded ahead
 * @running: whether a thread works on it; it is then in no line
 * @link: its place in line
 * @waiters: (element-type TptPreviewWaiter): who waits; empty when decoded ahead
 */
typedef struct {
  char *name;
  char *path;
  char *key;
  int size;
  gboolean ahead;
  gboolean running;
  GList link;
  GPtrArray *waiters;
} TptPreviewWish;

/* Who is next. Not locked: its owner does that. */
typedef struct {
  GHashTable *wishes; /* (owned) (element-type utf8 TptPreviewWish): by name, running ones too */
  GQueue waiting;     /* newest first */
  GQueue ahead;       /* in the order wanted */
  guint n_ahead;      /* running ones that nobody waits for */
} TptPreviewLine;

void tpt_preview_line_init (TptPreviewLine *line);
void tpt_preview_line_clear (TptPreviewLine *line);

/* (transfer none): the wish of that name, new or not. With @ahead a new one goes
 * behind the others that are ahead; else it becomes the very next. */
TptPreviewWish *tpt_preview_line_want (TptPreviewLine *line, const char *name, const char *path, const char *key, int size,
                                       gboolean ahead);

/* (transfer none) (nullable): the next to be worked on; it is running then.
 * @most_ahead: how many at a time may run that nobody waits for */
TptPreviewWish *tpt_preview_line_take (TptPreviewLine *line, guint most_ahead);

/* Ends a wish, running or in line; frees it. */
void tpt_preview_line_end (TptPreviewLine *line, TptPreviewWish *wish);

/* Drops what is in line to be decoded ahead. */
void tpt_preview_line_forget_ahead (TptPreviewLine *line);

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
} TptPreviewEngine;

/* See tpt_previews_new(). */
TptPreviewEngine *tpt_preview_engine_new (const char *folder, gsize memory, guint64 disk);
TptPreviewEngine *tpt_preview_engine_ref (TptPreviewEngine *engine);
void tpt_preview_engine_unref (TptPreviewEngine *engine);

/* With the lock held, after something was put in line. */
void tpt_preview_engine_wake (TptPreviewEngine *engine);

/* How many threads may decode ahead at a time. */
guint tpt_preview_engine_get_most_ahead (const TptPreviewEngine *engine);

/* The engine's lock guards @wish and @done. */
struct _TptPreviewWaiter {
  gatomicrefcount references;
  TptPreviewEngine *engine; /* (owned) */
  GTask *task;              /* (owned) */
  gulong cancelled_id;
  TptPreviewWish *wish; /* (unowned) (nullable): NULL before it is in line and when it is done */
  gboolean done;
};

TptPreviewWaiter *tpt_preview_waiter_ref (TptPreviewWaiter *waiter);
void tpt_preview_waiter_unref (TptPreviewWaiter *waiter);

/* (transfer full): of a picture at a size, for the stock and the line. */
char *tpt_preview_name (const char *key, int size);

G_END_DECLS
