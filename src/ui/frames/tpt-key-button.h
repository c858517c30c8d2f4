/* A button that shows the key that does the same. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TPT_TYPE_KEY_BUTTON (tpt_key_button_get_type ())
G_DECLARE_FINAL_TYPE (TptKeyButton, tpt_key_button, TPT, KEY_BUTTON, GtkButton)

/* Properties "key-name" (string): as printed on the key; "text" (string):
 * what it does; "held" (boolean): on, for what can be on and off. The keyboard's
 * focus stays where it is when the mouse presses the button. */
TptKeyButton *tpt_key_button_new (const char *key_name, const char *text);

/* @detail: (nullable): in small letters after it */
void tpt_key_button_set_text (TptKeyButton *self, const char *text, const char *detail);
void tpt_key_button_set_key (TptKeyButton *self, const char *key_name);
void tpt_key_button_set_held (TptKeyButton *self, gboolean held);

G_END_DECLS
