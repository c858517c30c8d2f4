/* Many small pieces of arithmetic, shared out among the processors. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* Works on piece @index. Pieces must not touch each other's data. */
typedef void (*TptShareFunc) (gpointer data, guint index);

/* Calls @work for each of @n pieces, in this thread and in as many more as
 * there are processors; returns when all are done or @cancellable (nullable)
 * is cancelled and those begun are done. */
void tpt_share_work (guint n, TptShareFunc work, gpointer data, GCancellable *cancellable);

G_END_DECLS
