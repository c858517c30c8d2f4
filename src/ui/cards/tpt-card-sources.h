/* The cards in this machine's readers: what is mounted and looks like a
 * camera's card. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

#define TPT_TYPE_CARD_SOURCES (tpt_card_sources_get_type ())
G_DECLARE_FINAL_TYPE (TptCardSources, tpt_card_sources, TPT, CARD_SOURCES, GObject)

/* Signals: "added" (folder, name) and "removed" (folder); nothing before
 * tpt_card_sources_start(), and each folder is added once until removed. */
TptCardSources *tpt_card_sources_new (void);
void tpt_card_sources_start (TptCardSources *self);

G_END_DECLS
