/* Units that are in no rig and not retired: what lies on the shelf. */
#pragma once

#include "tpt-project.h"
#include "tpt-record.h"

G_BEGIN_DECLS

/* @shelf: (nullable) (element-type TptRecord): %NULL with @error. */
typedef void (*TptShelfFunc) (GListModel *shelf, const GError *error, gpointer data);

/* Calls @func once, unless cancelled: then @shelf and @error are both %NULL. */
void tpt_shelf_read (TptProject *project, GCancellable *cancellable, TptShelfFunc func, gpointer data);

/* (transfer full): those of one kind. */
GListModel *tpt_shelf_filter (GListModel *shelf, const char *kind);

G_END_DECLS
