/* What the program remembers between sessions. Where its schema is not
 * installed it remembers for this session only, and works all the same.
 *
 * Keys: "recent-projects" (as), "window-width", "window-height" (i),
 * "window-maximized" (b), "last-page", "color-scheme" and "person" (s),
 * "lift-dark" and "naming-details" (b).
 */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

int tpt_settings_get_int (const char *key);
gboolean tpt_settings_get_flag (const char *key);
/* (transfer full) */
char *tpt_settings_get_text (const char *key);
GStrv tpt_settings_get_list (const char *key);

void tpt_settings_set_int (const char *key, int value);
void tpt_settings_set_flag (const char *key, gboolean value);
void tpt_settings_set_text (const char *key, const char *value);

/* Puts @path at the head of "recent-projects"; ten are kept. */
void tpt_settings_add_recent (const char *path);

G_END_DECLS
