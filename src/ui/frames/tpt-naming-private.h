/* What the files of the naming view share: the view itself, where it is in the
 * list (-place), what it shows (-show), the pictures (-picture), what is decided
 * (-decide), what is undone from elsewhere (-undo) and the keys (-keys). */
#pragma once

#include "tpt-decider.h"
#include "tpt-details-form.h"
#include "tpt-frame-strip.h"
#include "tpt-frame-view.h"
#include "tpt-key-button.h"
#include "tpt-name-pad.h"
#include "tpt-name-ranks.h"
#include "tpt-naming-view.h"
#include "tpt-said-list.h"
#include "tpt-trigger-reader.h"

G_BEGIN_DECLS

/* Something that was said here; @what: interned; %NULL when it has been taken back. */
typedef struct {
  gint64 trigger_id;
  const char *what;
} TptNamingPast;

struct _TptNamingView {
  GtkWidget parent_instance;

  GtkLabel *title;
  GtkLabel *light;
  GtkLabel *score;
  GtkLabel *place;
  GtkWidget *trouble;
  GtkLabel *trouble_text;
  GtkLabel *words;  /* instead of a picture */
  GtkLabel *damage;
  TptFrameView *view;
  TptFrameStrip *strip;
  TptKeyButton *zoom;
  TptKeyButton *lift;
  GtkAdjustment *lift_amount;
  TptKeyButton *guests;
  TptSaidList *said;
  TptNamePad *pad;
  GtkScrolledWindow *panel;
  TptKeyButton *details_button;
  GtkRevealer *details_revealer;
  GtkLabel *details_words;
  TptDetailsForm *details;

  TptProject *project;       /* (owned) (nullable) */
  TptTriggerReader *reader;  /* (owned) (nullable): as long as there is a project */
  TptNameRanks *ranks;       /* (owned) (nullable): likewise */
  TptDecider *decider;       /* (owned) (nullable): likewise */
  GCancellable *cancellable; /* (owned) (nullable): of what is asked beside them */
  char *person;              /* (owned) (nullable) */

  TptFrameList *list;        /* (owned) (nullable) */
  GArray *starts;            /* (owned) (element-type guint): where each trigger of the list begins */
  TptFrameQuery *query;      /* (owned) (nullable): that found the list */
  guint position;
  gint64 to_show;            /* a trigger that the list is to have soon; 0 for none */
  gint64 undecided;          /* -1 unknown */
  GArray *history;           /* (owned) (element-type TptNamingPast): what was said, the last one last */
  guint said_so_far;         /* decisions made here */

  TptFrameRef ref;           /* of the list's frame at the position; keys of 0 for nothing */
  GPtrArray *rows;           /* (owned) (nullable): the trigger's frames as they show */
  guint chosen;              /* place among them of the one shown large */
  gboolean named;            /* its names have been set, and stay */
  gboolean also;             /* names are said besides those before */
  TptDecision *last;         /* (owned) (nullable): what "repeat" says */
  char *last_words;          /* (owned) (nullable) */
  gboolean details_by_hand;  /* they were changed on this trigger */
  guint amend_source;        /* a change of the details waits to be written */

  char *key;                 /* (owned) (nullable): of the picture shown */
  gboolean partial;          /* some of it is grey */
  GCancellable *loading;     /* (owned) (nullable) */
  GCancellable *loading_whole; /* (owned) (nullable) */
  int size;                  /* that pictures are asked for */
  guint resize_source;
  gboolean lift_by_hand;     /* the slider was moved on this trigger */
  gboolean setting_lift;
};

/* --- place ---------------------------------------------------------------- */

/* Of the position's trigger among those of the list, from 0. */
guint tpt_naming_get_index (TptNamingView *self);
void tpt_naming_go (TptNamingView *self, guint position);
/* By triggers; %FALSE at either end, where it tells so. */
gboolean tpt_naming_step (TptNamingView *self, int triggers);
/* Shows this trigger if the list still has it. */
gboolean tpt_naming_return_to (TptNamingView *self, gint64 trigger_id);
void tpt_naming_next_undecided (TptNamingView *self);
/* Takes the list's places anew; the trigger shown stays in sight. */
void tpt_naming_list_changed (TptNamingView *self);
void tpt_naming_notify_position (TptNamingView *self);

/* --- show ------------------------------------------------------------------- */

/* A trigger other than before, at once as far as it has been read. */
void tpt_naming_show_trigger (TptNamingView *self);
/* Rows have come, or have come again. */
void tpt_naming_show_rows (TptNamingView *self);
void tpt_naming_show_place (TptNamingView *self);
void tpt_naming_show_names (TptNamingView *self);
void tpt_naming_show_said (TptNamingView *self);
void tpt_naming_show_trouble (TptNamingView *self);
void tpt_naming_choose_frame (TptNamingView *self, int place);
/* (nullable) */
const TptFrameRow *tpt_naming_get_row (TptNamingView *self);
gboolean tpt_naming_is_editable (TptNamingView *self);

/* --- picture ----------------------------------------------------------------- */

void tpt_naming_show_picture (TptNamingView *self);
void tpt_naming_clear_picture (TptNamingView *self);
void tpt_naming_load_whole (TptNamingView *self);
void tpt_naming_look_ahead (TptNamingView *self);
void tpt_naming_apply_lift (TptNamingView *self);
void tpt_naming_set_lift_dark (TptNamingView *self, gboolean on);
void tpt_naming_step_lift (TptNamingView *self, double by);
/* The view has another size. */
void tpt_naming_resized (TptNamingView *self);

/* --- decide -------------------------------------------------------------------- */

/* Of the trigger on screen; shows the next one. */
void tpt_naming_decide (TptNamingView *self, const char *type, const char *species);
void tpt_naming_repeat (TptNamingView *self);
void tpt_naming_take_back (TptNamingView *self, const char *observation);
void tpt_naming_take_back_all (TptNamingView *self);
void tpt_naming_settle (TptNamingView *self, int opinion);
void tpt_naming_settle_other (TptNamingView *self);
void tpt_naming_mark (TptNamingView *self);
void tpt_naming_split (TptNamingView *self);
void tpt_naming_join (TptNamingView *self);
void tpt_naming_set_also (TptNamingView *self, gboolean also);
/* What waits to be written of the details is written now. */
void tpt_naming_flush_details (TptNamingView *self);
void tpt_naming_details_changed (TptNamingView *self);
void tpt_naming_show_details (TptNamingView *self);
/* (nullable): the reader's own word that the details are of. */
const TptSeen *tpt_naming_find_mine (TptNamingView *self, guint *n);

/* Asks, adds a species and names the trigger on screen by it. */
void tpt_naming_add_species (TptNamingView *self, const char *text);

void tpt_naming_count_undecided (TptNamingView *self, int by);
/* (nullable): what was said last. */
const TptNamingPast *tpt_naming_get_past (TptNamingView *self);
/* One text for each thing that can be said. */
const char *tpt_naming_intern_word (const char *type, const char *species);

/* --- undo ------------------------------------------------------------------------ */

/* The project changed by other means than from here, an undo perhaps: goes back
 * to the last trigger decided on when its decision is gone. */
void tpt_naming_changed_outside (TptNamingView *self);

/* --- the project ------------------------------------------------------------------ */

void tpt_naming_take_project (TptNamingView *self, TptProject *project);
/* What waits is written first. */
void tpt_naming_let_go_of_project (TptNamingView *self);
void tpt_naming_let_go_of_list (TptNamingView *self);

/* --- keys ------------------------------------------------------------------------ */

void tpt_naming_add_keys (TptNamingView *self);
void tpt_naming_back (TptNamingView *self);
void tpt_naming_toggle_details (TptNamingView *self);
/* What is typed from now on is for the picture, not for an entry; a search is over. */
void tpt_naming_free_keys (TptNamingView *self);

G_END_DECLS
