/* What the parts of the page share. */
#pragma once

#include "tpt-batch-list.h"
#include "tpt-frame-filter.h"
#include "tpt-frame-grid.h"
#include "tpt-naming-view.h"
#include "tpt-sorting-page.h"

G_BEGIN_DECLS

/* How far scoring batch after batch has got. */
typedef struct {
  GHashTable *done;  /* (owned): codes */
  gboolean all;      /* not only the batch that was chosen */
  gint64 planned;    /* triggers */
  gint64 current;    /* of these, in the batch that is being scored */
  gint64 seen;       /* in batches before that */
  gint64 scored;
} TptSortingTally;

struct _TptSortingPage {
  GtkWidget parent_instance;

  GtkStack *stack;  /* nothing, list, naming */
  TptBatchList *batches;
  GtkWidget *clock; /* of the batch that is chosen */
  GtkMenuButton *person_button;
  GtkLabel *person_label;
  GtkEditable *person_entry;
  TptFrameFilter *filter;
  GtkLabel *sentence;
  GtkWidget *clear;
  GtkWidget *findings; /* the way back to where the list was asked for */
  GtkLabel *count;
  GtkSpinner *spinner;
  GtkStack *middle; /* waiting, empty, none, grid */
  GtkLabel *waiting;
  TptFrameGrid *grid;
  GtkLabel *score_text;
  GtkWidget *score_start;
  GtkWidget *score_stop;
  GtkProgressBar *score_bar;
  GtkWidget *score_choose;
  GtkSpinButton *score_from;
  GtkLabel *chosen;
  GtkWidget *foot;
  GtkWidget *changes;
  GtkButton *guests;
  GtkWidget *choose_none;
  TptNamingView *naming;

  TptProject *project;      /* (owned) (nullable) */
  TptFrameList *list;       /* (owned) (nullable) */
  char *person;             /* (owned) */
  gint64 triggers;          /* of the answer that shows */
  gint64 undecided;
  gboolean stale;           /* there was a change while naming */
  gboolean from_top;        /* another batch: the answer shows from its first frame on */
  char *complaint;          /* (owned) (nullable): the last that was shown */
  guint place;              /* where to be once the list is another; %G_MAXUINT for where it is now */

  guint debounce_source;
  GCancellable *finding;    /* (owned) (nullable): the run whose result is wanted */
  GCancellable *counting;   /* (owned) (nullable): the same for the batches */
  GCancellable *listing;    /* (owned) (nullable): the same for the species */
  GCancellable *scoring;    /* (owned) (nullable): a run under way */
  GCancellable *choosing;   /* (owned) (nullable) */
  TptJob *scorer;           /* (owned) (nullable): of the batch that is being scored */
  TptSortingTally *tally;   /* (owned) (nullable): of all that are scored in one go */
  guint ask_above;          /* so many triggers that have been named change without a question */
  guint writing;            /* changes on their way */
};

/* tpt-sorting-page.c */
void tpt_sorting_complain (TptSortingPage *self, const GError *error);
/* Takes back the last complaint: what it was about went well since. */
void tpt_sorting_calm (TptSortingPage *self);
void tpt_sorting_update_spinner (TptSortingPage *self);
void tpt_sorting_drop_run (GCancellable **run);

/* tpt-sorting-find.c */
void tpt_sorting_queue_find (TptSortingPage *self);
void tpt_sorting_find_now (TptSortingPage *self);
void tpt_sorting_read_species (TptSortingPage *self);

/* tpt-sorting-change.c */
void tpt_sorting_show_chosen (TptSortingPage *self);
/* @type: (nullable): as of #TptDecision */
void tpt_sorting_decide (TptSortingPage *self, const char *type, const char *species);
void tpt_sorting_name (TptSortingPage *self);
void tpt_sorting_mark (TptSortingPage *self);

/* tpt-sorting-keys.c */
void tpt_sorting_add_keys (TptSortingPage *self);

/* tpt-sorting-score.c */
void tpt_sorting_show_score (TptSortingPage *self);
void tpt_sorting_start_score (TptSortingPage *self);
void tpt_sorting_end_score (TptSortingPage *self); /* forgets it; says nothing */
void tpt_sorting_stop_score (TptSortingPage *self);
void tpt_sorting_choose_empty (TptSortingPage *self);

G_END_DECLS
