/* What is remembered, and what is to be done: the two halves of TptPreviews. */
#pragma once

#include "tpt-previews.h"

G_BEGIN_DECLS

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

G_END_DECLS
