/* A remark with its sign: the icon says what kind it is, and so does its name. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum {
  TPT_CARD_NOTE_GOOD,
  TPT_CARD_NOTE_CAUTION,
  TPT_CARD_NOTE_TROUBLE,
} TptCardNoteKind;

/* (transfer full, floating): @text is plain. */
GtkWidget *tpt_card_note_new (TptCardNoteKind kind, const char *text);

/* The same below a line in bold. */
GtkWidget *tpt_card_note_new_titled (TptCardNoteKind kind, const char *title, const char *text);

/* Takes out whatever lies in @box. */
void tpt_card_note_clear (GtkBox *box);

G_END_DECLS
