#include "config.h"

#include "tpt-sorting-page.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-frame-filter-words.h"
#include "tpt-settings.h"
#include "tpt-sorting-private.h"
#include "tpt-style.h"

#define RESOURCES "/io/github/tapetum/Tapetum/frames/"
#define MANY 100         /* triggers that change without a question */
#define SMALL_LIST 50000 /* frames that are found again without anybody noticing */

G_DEFINE_FINAL_TYPE (TptSortingPage, tpt_sorting_page, GTK_TYPE_WIDGET)

void
tpt_sorting_drop_run (GCancellable **run)
{
  if (*run != NULL)
    g_cancellable_cancel (*run);
  g_clear_object (run);
}

void
tpt_sorting_complain (TptSortingPage *self, const GError *error)
{
  if (self->project == NULL || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_free (self->complaint);
  self->complaint = g_strdup (error->message);
  gtk_label_set_label (self->waiting, error->message);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
}

void
tpt_sorting_calm (TptSortingPage *self)
{
  if (self->complaint != NULL)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.calm", "s", self->complaint);
  g_clear_pointer (&self->complaint, g_free);
}

void
tpt_sorting_update_spinner (TptSortingPage *self)
{
  if (self->spinner != NULL)
    gtk_spinner_set_spinning (self->spinner, self->finding != NULL || self->counting != NULL ||
                                               self->choosing != NULL || self->writing > 0);
}

static gboolean
is_naming (TptSortingPage *self)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (self->stack), "naming") == 0;
}

/* --- choosing what to see ------------------------------------------------------- */

static void
batch_cb (TptSortingPage *self)
{
  self->from_top = TRUE;
  tpt_frame_filter_set_batch (self->filter, tpt_batch_list_get_chosen (self->batches));
  tpt_sorting_show_score (self);
  tpt_sorting_queue_find (self);
}

static void
entered_cb (TptSortingPage *self)
{
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
filter_cb (TptSortingPage *self)
{
  tpt_sorting_queue_find (self);
}

/* The order is none of what narrows the list. */
static void
clear_cb (TptSortingPage *self)
{
  TptFrameOrder order = tpt_frame_filter_get_query (self->filter)->order;

  gtk_widget_set_visible (self->findings, FALSE);
  tpt_frame_filter_clear (self->filter);
  tpt_frame_filter_set_order (self->filter, order);
  tpt_batch_list_set_chosen (self->batches, NULL);
  tpt_sorting_show_score (self);
  tpt_sorting_find_now (self);
}

static void
choose_none_cb (TptSortingPage *self)
{
  gtk_selection_model_unselect_all (GTK_SELECTION_MODEL (tpt_frame_grid_get_selection (self->grid)));
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
blank_cb (TptSortingPage *self)
{
  tpt_sorting_decide (self, "blank", NULL);
}

static void
human_cb (TptSortingPage *self)
{
  tpt_sorting_decide (self, "human", NULL);
}

static void
vehicle_cb (TptSortingPage *self)
{
  tpt_sorting_decide (self, "vehicle", NULL);
}

static void
unknown_cb (TptSortingPage *self)
{
  tpt_sorting_decide (self, "unknown", NULL);
}

static void
take_back_cb (TptSortingPage *self)
{
  tpt_sorting_decide (self, NULL, NULL);
}

/* --- naming ------------------------------------------------------------------------ */

static void
opened_cb (TptSortingPage *self, guint position)
{
  if (self->list == NULL || position >= g_list_model_get_n_items (G_LIST_MODEL (self->list)))
    return;
  gtk_stack_set_visible_child_name (self->stack, "naming");
  tpt_naming_view_show (self->naming, self->list, position);
  tpt_naming_view_set_undecided (self->naming, self->undecided);
  tpt_naming_view_set_query (self->naming, tpt_frame_filter_get_query (self->filter));
  gtk_widget_grab_focus (GTK_WIDGET (self->naming));
}

/* The list as it was answers for where to be; then it is looked for anew. */
static void
back_cb (TptSortingPage *self)
{
  guint position = tpt_naming_view_get_position (self->naming);

  gtk_stack_set_visible_child_name (self->stack, "list");
  if (self->list != NULL && position < g_list_model_get_n_items (G_LIST_MODEL (self->list)))
    {
      gtk_selection_model_select_item (GTK_SELECTION_MODEL (tpt_frame_grid_get_selection (self->grid)), position, TRUE);
      tpt_frame_grid_go (self->grid, position, TRUE);
    }
  if (!self->stale)
    return;
  self->place = position;
  tpt_sorting_find_now (self);
}

/* While naming, a list whose frames depend on what is said stays as it is: a
 * trigger that has just been named must not vanish before it can be undone. */
static void
changed_cb (TptSortingPage *self)
{
  const TptFrameQuery *query = tpt_frame_filter_get_query (self->filter);

  if (!is_naming (self))
    {
      tpt_sorting_queue_find (self);
      return;
    }
  self->stale = TRUE;
  if (!tpt_frame_filter_is_of_decisions (query) && self->list != NULL &&
      g_list_model_get_n_items (G_LIST_MODEL (self->list)) < SMALL_LIST)
    tpt_sorting_queue_find (self);
}

/* --- who is naming ------------------------------------------------------------------- */

/* (transfer full): as the system knows who this is. */
static char *
guess_person (void)
{
  const char *name = g_get_real_name ();

  if (name == NULL || name[0] == '\0' || g_str_equal (name, "Unknown"))
    name = g_get_user_name ();
  return g_utf8_make_valid (name, -1);
}

static void
show_person (TptSortingPage *self)
{
  g_autofree char *text = g_strdup_printf (_("Naming as %s"), self->person);

  gtk_label_set_label (self->person_label, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->person_button), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_editable_set_text (self->person_entry, self->person);
  tpt_naming_view_set_person (self->naming, self->person);
}

/* An empty name is the system's again. */
static void
set_person (TptSortingPage *self, const char *typed)
{
  g_autofree char *name = g_strstrip (g_strdup (typed));

  g_free (self->person);
  self->person = name[0] != '\0' ? g_strdup (name) : guess_person ();
  show_person (self);
}

static void
person_closed_cb (TptSortingPage *self)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (self->person_entry)));

  if (g_str_equal (name, self->person))
    return;
  tpt_settings_set_text ("person", name);
  set_person (self, name);
}

static void
person_activate_cb (TptSortingPage *self)
{
  gtk_menu_button_popdown (self->person_button);
}

/* --- the object ------------------------------------------------------------------------ */

static void
leave_project (TptSortingPage *self)
{
  g_clear_handle_id (&self->debounce_source, g_source_remove);
  tpt_sorting_drop_run (&self->finding);
  tpt_sorting_drop_run (&self->counting);
  tpt_sorting_drop_run (&self->listing);
  tpt_sorting_drop_run (&self->choosing);
  tpt_sorting_end_score (self);
  if (self->grid != NULL)
    {
      tpt_naming_view_set_project (self->naming, NULL);
      tpt_frame_grid_set_list (self->grid, NULL, NULL);
    }
  if (self->list != NULL)
    tpt_frame_list_stop (self->list);
  g_clear_object (&self->list);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_data (self->project, self);
  g_clear_object (&self->project);
}

static gboolean
tpt_sorting_page_grab_focus (GtkWidget *widget)
{
  TptSortingPage *self = TPT_SORTING_PAGE (widget);

  return gtk_widget_grab_focus (is_naming (self) ? GTK_WIDGET (self->naming) : GTK_WIDGET (self->grid));
}

static void
tpt_sorting_page_dispose (GObject *object)
{
  TptSortingPage *self = TPT_SORTING_PAGE (object);

  leave_project (self);
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_SORTING_PAGE);
  self->grid = NULL;
  self->spinner = NULL;

  G_OBJECT_CLASS (tpt_sorting_page_parent_class)->dispose (object);
}

static void
tpt_sorting_page_finalize (GObject *object)
{
  g_free (TPT_SORTING_PAGE (object)->person);
  g_free (TPT_SORTING_PAGE (object)->complaint);

  G_OBJECT_CLASS (tpt_sorting_page_parent_class)->finalize (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, stack);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, batches);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, clock);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, person_button);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, person_label);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, person_entry);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, filter);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, clear);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, findings);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, count);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, spinner);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, middle);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, waiting);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, grid);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, score_text);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, score_start);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, score_stop);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, score_bar);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, score_choose);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, score_from);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, chosen);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, foot);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, changes);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, guests);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, choose_none);
  gtk_widget_class_bind_template_child (widget_class, TptSortingPage, naming);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, batch_cb);
  gtk_widget_class_bind_template_callback (widget_class, entered_cb);
  gtk_widget_class_bind_template_callback (widget_class, filter_cb);
  gtk_widget_class_bind_template_callback (widget_class, clear_cb);
  gtk_widget_class_bind_template_callback (widget_class, opened_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_none_cb);
  gtk_widget_class_bind_template_callback (widget_class, blank_cb);
  gtk_widget_class_bind_template_callback (widget_class, human_cb);
  gtk_widget_class_bind_template_callback (widget_class, vehicle_cb);
  gtk_widget_class_bind_template_callback (widget_class, unknown_cb);
  gtk_widget_class_bind_template_callback (widget_class, take_back_cb);
  gtk_widget_class_bind_template_callback (widget_class, person_closed_cb);
  gtk_widget_class_bind_template_callback (widget_class, person_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, tpt_sorting_show_chosen);
  gtk_widget_class_bind_template_callback (widget_class, tpt_sorting_name);
  gtk_widget_class_bind_template_callback (widget_class, tpt_sorting_mark);
  gtk_widget_class_bind_template_callback (widget_class, tpt_sorting_start_score);
  gtk_widget_class_bind_template_callback (widget_class, tpt_sorting_stop_score);
  gtk_widget_class_bind_template_callback (widget_class, tpt_sorting_choose_empty);
}

static void
tpt_sorting_page_class_init (TptSortingPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_sorting_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_sorting_page_finalize;
  widget_class->grab_focus = tpt_sorting_page_grab_focus;
  g_type_ensure (TPT_TYPE_BATCH_LIST);
  g_type_ensure (TPT_TYPE_FRAME_FILTER);
  g_type_ensure (TPT_TYPE_FRAME_GRID);
  g_type_ensure (TPT_TYPE_NAMING_VIEW);
  gtk_widget_class_set_template_from_resource (widget_class, RESOURCES "tpt-sorting-page.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
tpt_sorting_page_init (TptSortingPage *self)
{
  g_autofree char *person = tpt_settings_get_text ("person");

  self->place = G_MAXUINT;
  self->ask_above = MANY;
  tpt_style_add (RESOURCES "frames.css");
  gtk_widget_init_template (GTK_WIDGET (self));
  set_person (self, person);
  tpt_sorting_add_keys (self);
  tpt_sorting_show_chosen (self);
  tpt_sorting_show_score (self);
}

TptSortingPage *
tpt_sorting_page_new (void)
{
  return g_object_new (TPT_TYPE_SORTING_PAGE, NULL);
}

static void
enter_project (TptSortingPage *self, TptProject *project)
{
  self->project = g_object_ref (project);
  self->list = tpt_frame_list_new (project);
  tpt_naming_view_set_project (self->naming, project);
  tpt_frame_grid_set_list (self->grid, self->list, tpt_project_get_zone (project));
  g_signal_connect_object (project, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  self->from_top = TRUE;
  gtk_label_set_label (self->waiting, _("Looking for frames…"));
  gtk_stack_set_visible_child_name (self->middle, "waiting");
  tpt_sorting_read_species (self);
  tpt_sorting_find_now (self);
}

void
tpt_sorting_page_set_project (TptSortingPage *self, TptProject *project)
{
  if (self->project == project)
    return;
  leave_project (self);
  gtk_widget_set_visible (self->findings, FALSE);
  tpt_frame_filter_clear (self->filter);
  tpt_batch_list_set_chosen (self->batches, NULL);
  gtk_stack_set_visible_child_name (self->stack, project != NULL ? "list" : "nothing");
  if (project != NULL)
    enter_project (self, project);
  tpt_sorting_show_chosen (self);
  tpt_sorting_show_score (self);
}

void
tpt_sorting_page_show_batch (TptSortingPage *self, const char *batch)
{
  gtk_stack_set_visible_child_name (self->stack, "list");
  gtk_widget_set_visible (self->findings, FALSE);
  self->from_top = TRUE;
  tpt_frame_filter_clear (self->filter);
  tpt_batch_list_set_chosen (self->batches, batch);
  tpt_frame_filter_set_batch (self->filter, batch);
  tpt_sorting_find_now (self);
}

void
tpt_sorting_page_show_query (TptSortingPage *self, const TptFrameQuery *query)
{
  gtk_stack_set_visible_child_name (self->stack, "list");
  gtk_widget_set_visible (self->findings, TRUE);
  self->from_top = TRUE;
  tpt_batch_list_set_chosen (self->batches, NULL);
  tpt_frame_filter_set_query (self->filter, query);
  tpt_sorting_show_score (self);
  tpt_sorting_find_now (self);
}

gboolean
tpt_sorting_page_is_settled (TptSortingPage *self)
{
  return self->debounce_source == 0 && self->finding == NULL && self->counting == NULL && self->choosing == NULL &&
         self->listing == NULL && self->scoring == NULL && self->writing == 0;
}
