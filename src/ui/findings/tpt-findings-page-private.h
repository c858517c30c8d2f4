/* What the files of the findings page share: the page itself in tpt-findings-page.c, what runs
 * for its panes in -runs.c, what is shown of it in -show.c and -figures.c, the heads of the panes in -panes.c,
 * what is chosen in them in -actions.c, and the keys in -keys.c. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-choice-chips.h"
#include "tpt-compare-button.h"
#include "tpt-details-view.h"
#include "tpt-figure-pane.h"
#include "tpt-findings-choice.h"
#include "tpt-findings-page.h"
#include "tpt-job-findings.h"
#include "tpt-job-matrix.h"
#include "tpt-job-moon.h"
#include "tpt-job-richness.h"
#include "tpt-map-pair.h"
#include "tpt-period-button.h"
#include "tpt-species-list.h"

G_BEGIN_DECLS

/* What is computed for the panes, each by itself. */
typedef enum {
  TPT_RUN_COUNT,     /* the sentence and the species, and whatever is the same without its own part */
  TPT_RUN_OTHER,     /* the same of what stands beside it */
  TPT_RUN_MAP,
  TPT_RUN_OTHER_MAP,
  TPT_RUN_STRIP,
  TPT_RUN_HOURS,
  TPT_RUN_MONTHS,
  TPT_RUN_RATES,     /* of exactly what is chosen: the ratio of the two, or the trend */
  TPT_RUN_MATRIX,
  TPT_RUN_RICHNESS,
  TPT_RUN_OCCUPANCY,
  TPT_RUN_MOON,
  TPT_N_RUNS,
} TptFindingsRun;

/* What a switchable pane shows; the order of its drop-down. */
typedef enum {
  TPT_SIDE_MATRIX,
  TPT_SIDE_RICHNESS,
  TPT_SIDE_DETAILS,
} TptSideKind;

/* The second one only where there is room. */
#define TPT_N_SIDES 2

typedef struct {
  TptFigurePane *pane;
  GtkDropDown *kind;
  TptDetailsView *details; /* (owned): whether or not it is in the pane */
} TptSide;

typedef struct {
  GCancellable *cancellable; /* (owned) (nullable): of the run whose result is wanted */
  gboolean old;              /* what is shown is not of what is chosen */
} TptRunState;

struct _TptFindingsPage {
  GtkWidget parent_instance;

  GtkStack *stack;
  GtkLabel *waiting;
  GtkWidget *bar;
  GtkLabel *sentence;
  GtkLabel *other_sentence;
  GtkLabel *beside_sentence;
  TptChoiceChips *chips;
  GtkSpinner *spinner;
  GtkWidget *back;
  TptPeriodButton *period;
  TptCompareButton *compare;
  GtkWidget *everything;
  TptSpeciesList *species;
  GtkRevealer *nothing_seen;
  GtkLabel *nothing_seen_label;
  GtkPaned *upper;
  GtkPaned *lower;
  GtkPaned *rows;
  GtkPaned *rest;
  GtkBox *sides_place;
  TptFigurePane *map;
  TptFigurePane *strip;
  TptFigurePane *hours;
  TptFigurePane *months;

  TptMapPair *maps;       /* (not owned): the map pane's */
  GtkDropDown *measure;   /* (not owned): the map pane's */
  GtkDropDown *clock;     /* (not owned): the hours pane's */
  TptSide sides[TPT_N_SIDES];
  TptFigurePane *larger;  /* (not owned) (nullable): has all the room */
  gboolean wide;

  TptProject *project; /* (owned) (nullable) */
  TptFindingsChoice *choice; /* (owned) */
  TptRunState runs[TPT_N_RUNS];
  GCancellable *tracking;  /* (owned) (nullable) */
  guint run_source;
  guint width_source;
  gboolean awaits_keys; /* opened before anything was counted */
  gint64 escaped_at; /* when Escape was pressed last and nothing else took it */

  GListModel *places;       /* (owned) (nullable): on the map, with their titles */
  GListModel *strip_places; /* (owned) (nullable): what the rows of the strip were made of */
  char *selected;           /* (owned) (nullable): code of the station pointed out last */
  TptFigure *matrix;        /* (owned) (nullable): what the switchable panes show */
  TptFigure *richness;      /* (owned) (nullable) */
  TptJobActivity *activity; /* (owned) (nullable): the latest hours */
  TptJobMonths *rates;      /* (owned) (nullable): the latest rates */
};

/* --- runs ------------------------------------------------------------------ */

/* Marks what choosing @parts has a bearing on, and runs it when the main loop is idle. */
void tpt_findings_mark (TptFindingsPage *self, TptFindingsPart parts);
void tpt_findings_mark_run (TptFindingsPage *self, TptFindingsRun run);
void tpt_findings_queue (TptFindingsPage *self);
/* Nothing of what is under way is wanted. */
void tpt_findings_drop_runs (TptFindingsPage *self);
gboolean tpt_findings_is_running (TptFindingsPage *self);
void tpt_findings_read_tracks (TptFindingsPage *self);

/* Whether one of the switchable panes that can be seen shows @kind. */
gboolean tpt_findings_has_side (TptFindingsPage *self, TptSideKind kind);
gboolean tpt_findings_by_sun (TptFindingsPage *self);

/* --- what is shown ---------------------------------------------------------- */

void tpt_findings_show_count (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_other (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_map (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_other_map (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_strip (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_hours (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_months (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_rates (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_matrix (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_richness (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_occupancy (TptFindingsPage *self, TptJob *job);
void tpt_findings_show_moon (TptFindingsPage *self, TptJob *job);

/* What went wrong, where it would have been shown. */
void tpt_findings_show_fault (TptFindingsPage *self, TptFindingsRun run, const GError *error);
void tpt_findings_show_trouble (TptFindingsPage *self, const char *words);

/* The pane of a run recedes, or stands out again. */
void tpt_findings_set_waiting (TptFindingsPage *self, TptFindingsRun run, gboolean waiting);

/* A figure, which keeps its place for the keyboard when it is the same, or a note in its place. */
void tpt_findings_show_figure (TptFigurePane *pane, TptFigure *figure, const char *note);
/* The stretches of time and hours that are chosen. */
void tpt_findings_show_brushes (TptFindingsPage *self);
/* The station pointed out, on the maps and in the strip. */
void tpt_findings_mark_station (TptFindingsPage *self);
void tpt_findings_show_sides (TptFindingsPage *self);
/* @job, or @words why there is none. */
void tpt_findings_say_occupancy (TptFindingsPage *self, TptJobOccupancy *job, const char *words);

/* What is chosen: chips, buttons, brushes, marks. */
void tpt_findings_show_choice (TptFindingsPage *self);
/* What a switchable pane is set to. */
void tpt_findings_show_side (TptFindingsPage *self, TptSide *side);
/* Lets go of what the panes were shown from; tpt_findings_forget() also empties them. */
void tpt_findings_drop_results (TptFindingsPage *self);
void tpt_findings_forget (TptFindingsPage *self);

/* (transfer full) (nullable): what the first or the other of two that are compared is beside the other; %NULL
 * without a comparison. */
char *tpt_findings_name_side (TptFindingsPage *self, gboolean other);

/* (transfer full): how something is called, or its name. For #TptNaming, @page is the page. */
char *tpt_findings_name_station (const char *code, gpointer page);
char *tpt_findings_name_species (const char *scientific, gpointer page);

/* --- actions ----------------------------------------------------------------- */

/* The group "findings" of the page. */
void tpt_findings_add_actions (TptFindingsPage *self);
/* What panes tell. */
void tpt_findings_connect_panes (TptFindingsPage *self);
void tpt_findings_point_out (TptFindingsPage *self, const char *code);

/* --- keys and room -------------------------------------------------------------- */

void tpt_findings_add_keys (TptFindingsPage *self);
/* @pane (nullable): gets all the room beside the species. */
void tpt_findings_set_larger (TptFindingsPage *self, TptFigurePane *pane);

/* Makes the switchable panes and what stands in the others' heads. */
void tpt_findings_fill_panes (TptFindingsPage *self);

G_END_DECLS
