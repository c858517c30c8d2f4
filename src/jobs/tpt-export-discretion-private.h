/* What an export leaves out or makes coarser. */
#pragma once

#include "tpt-discretion-private.h"

G_BEGIN_DECLS

typedef struct _TptExportDiscretion TptExportDiscretion;

/* (transfer full) (nullable): reads what the project asks for. @exact: only
 * people are kept back. */
TptExportDiscretion *tpt_export_discretion_new (TptStore *store, gboolean exact, GError **error);
void tpt_export_discretion_free (TptExportDiscretion *self);

/* Whether @record may leave at all: a frame with people or what was said of one may not. */
gboolean tpt_export_discretion_allows (TptExportDiscretion *self, TptRecord *record);

/* Makes @record, which is the caller's own, fit to leave. %TRUE when its place
 * is coarser now or gone. */
gboolean tpt_export_discretion_soften (TptExportDiscretion *self, TptRecord *record);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptExportDiscretion, tpt_export_discretion_free)

G_END_DECLS
