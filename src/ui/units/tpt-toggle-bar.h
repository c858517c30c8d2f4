/* One of a few words to choose from, or none yet: large buttons side by side.
 *
 * The bar is one stop of the Tab key; the arrow keys walk along it and Space
 * or Enter chooses. The underlined letters choose as well: as mnemonics of the
 * window (with Alt), or plainly through tpt_toggle_bar_press().
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define TPT_TYPE_TOGGLE_BAR (tpt_toggle_bar_get_type ())
G_DECLARE_FINAL_TYPE (TptToggleBar, tpt_toggle_bar, TPT, TOGGLE_BAR, GtkWidget)

typedef struct {
  const char *code;
  const char *label; /* untranslated, its letter underscored: N_("_Swapped") */
} TptToggleChoice;

/**
 * tpt_toggle_bar_new:
 * @label: what is chosen, for readers of screens
 * @choices: ended by a %NULL code; static
 * @mnemonics: the letters are mnemonics of the window
 *
 * Signal "changed".
 */
TptToggleBar *tpt_toggle_bar_new (const char *label, const TptToggleChoice *choices, gboolean mnemonics);

/* (nullable): nothing is chosen. */
const char *tpt_toggle_bar_get (TptToggleBar *self);
void tpt_toggle_bar_set (TptToggleBar *self, const char *code);

/* Chooses what @letter stands for, or takes it back when it is chosen already;
 * %FALSE when it stands for nothing here. */
gboolean tpt_toggle_bar_press (TptToggleBar *self, gunichar letter);
/* (nullable): the code @letter stands for. */
const char *tpt_toggle_bar_find (TptToggleBar *self, gunichar letter);

/* For tests: the button of @code. */
GtkToggleButton *tpt_toggle_bar_get_button (TptToggleBar *self, const char *code);

G_END_DECLS
