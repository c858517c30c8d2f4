#include "config.h"

#include "tpt-said-list.h"

#include <glib/gi18n-lib.h>

#include "tpt-frame-words.h"
#include "tpt-key-button.h"

struct _TptSaidList {
  GtkWidget parent_instance;

  GtkWidget *differ;
  GtkLabel *differ_text;
  GtkBox *choices;
  GtkLabel *undecided;
  GtkBox *lines;
};

G_DEFINE_FINAL_TYPE (TptSaidList, tpt_said_list, GTK_TYPE_WIDGET)

enum {
  SIGNAL_TAKEN_BACK,
  SIGNAL_LET_COUNT,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static gboolean
is_mine (const TptSeen *seen, const char *person)
{
  return g_strcmp0 (seen->by, person) == 0;
}

static int
get_opinion (const TptSeen *seen)
{
  return MAX (seen->opinion, 1);
}

/* (transfer full): all that one opinion names: "lesser mouse-deer and red muntjac". */
static char *
word_opinion (const TptFrameRow *row, int opinion, const TptSeen **first)
{
  GString *words = g_string_new (NULL);

  *first = NULL;
  for (guint i = 0; i < row->seen->len; i++)
    {
      const TptSeen *seen = row->seen->pdata[i];
      g_autofree char *what = NULL;

      if (get_opinion (seen) != opinion)
        continue;
      if (*first == NULL)
        *first = seen;
      what = tpt_seen_describe (seen);
      g_string_append_printf (words, "%s%s", words->len > 0 ? _(" and ") : "", what);
    }
  return g_string_free (words, FALSE);
}

static int
find_last_opinion (const TptFrameRow *row)
{
  int last = 0;

  for (guint i = 0; i < row->seen->len; i++)
    last = MAX (last, get_opinion (row->seen->pdata[i]));
  return last;
}

/* (transfer full): "Ana said lesser mouse-deer" */
static char *
word_who_said (const TptSeen *seen, const char *person, const char *what)
{
  if (seen->by == NULL)
    return g_strdup_printf (_("Somebody said %s"), what);
  if (is_mine (seen, person))
    return g_strdup_printf (_("You said %s"), what);
  return g_strdup_printf (_("%1$s said %2$s"), seen->by, what);
}

char *
tpt_said_list_word_disagreement (const TptFrameRow *row, const char *person)
{
  GString *words = NULL;

  if (!row->disagreement)
    return NULL;
  words = g_string_new (NULL);
  for (int opinion = 1; opinion <= find_last_opinion (row); opinion++)
    {
      const TptSeen *first;
      g_autofree char *what = word_opinion (row, opinion, &first);
      g_autofree char *said = first != NULL ? word_who_said (first, person, what) : NULL;

      if (said != NULL)
        g_string_append_printf (words, "%s%s%s.", words->len > 0 ? " " : "", said, opinion == 1 ? _(", which counts") : "");
    }
  return g_string_free (words, FALSE);
}

int
tpt_said_list_find_other (const TptFrameRow *row)
{
  for (guint i = 0; row->disagreement && i < row->seen->len; i++)
    if (get_opinion (row->seen->pdata[i]) > 1)
      return get_opinion (row->seen->pdata[i]);
  return 0;
}

static void
count_cb (TptSaidList *self, GtkWidget *button)
{
  int opinion = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "opinion"));

  g_signal_emit (self, signals[SIGNAL_LET_COUNT], 0, opinion);
}

static void
take_back_cb (TptSaidList *self, GtkWidget *button)
{
  g_autofree char *code = g_strdup (g_object_get_data (G_OBJECT (button), "observation"));

  g_signal_emit (self, signals[SIGNAL_TAKEN_BACK], 0, code);
}

static void
empty_box (GtkBox *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
}

static void
add_choice (TptSaidList *self, const TptFrameRow *row, int opinion, gboolean first)
{
  const TptSeen *seen;
  g_autofree char *what = word_opinion (row, opinion, &seen);
  g_autofree char *text = g_strdup_printf (opinion > 1 ? _("Let “%s” count") : _("Let “%s” stand"), what);
  TptKeyButton *button;

  if (seen == NULL)
    return;
  button = tpt_key_button_new (first ? "O" : NULL, text);
  g_object_set_data (G_OBJECT (button), "opinion", GINT_TO_POINTER (opinion));
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (count_cb), self);
  gtk_box_append (self->choices, GTK_WIDGET (button));
}

static void
show_difference (TptSaidList *self, const TptFrameRow *row, const char *person, gboolean editable)
{
  g_autofree char *text = row != NULL ? tpt_said_list_word_disagreement (row, person) : NULL;
  int other = row != NULL ? tpt_said_list_find_other (row) : 0;

  empty_box (self->choices);
  gtk_label_set_label (self->differ_text, text != NULL ? text : "");
  gtk_widget_set_visible (self->differ, text != NULL);
  for (int opinion = other; editable && other > 0 && opinion <= find_last_opinion (row); opinion++)
    add_choice (self, row, opinion, opinion == other);
  if (editable && other > 0)
    add_choice (self, row, 1, FALSE); /* what counts is right: the difference is settled */
}

static void
add_remove (TptSaidList *self, GtkBox *line, const TptSeen *seen, const char *words)
{
  GtkWidget *button = gtk_button_new_from_icon_name ("edit-clear-symbolic");
  g_autofree char *label = g_strdup_printf (_("Take back: %s"), words);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "tight");
  gtk_widget_set_focus_on_click (button, FALSE);
  gtk_widget_set_tooltip_text (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data_full (G_OBJECT (button), "observation", g_strdup (seen->observation), g_free);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (take_back_cb), self);
  gtk_box_append (line, button);
}

static void
add_line (TptSaidList *self, const TptSeen *seen, const char *person, gboolean editable)
{
  GtkBox *line = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6));
  g_autofree char *words = tpt_frame_words_seen (seen);
  GtkWidget *label = gtk_label_new (words);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (label, get_opinion (seen) == 1 ? "strong" : "quiet");
  gtk_widget_set_tooltip_text (label, seen->notes);
  gtk_box_append (line, label);
  if (editable && is_mine (seen, person))
    add_remove (self, line, seen, words);
  gtk_box_append (self->lines, GTK_WIDGET (line));
}

static void
tpt_said_list_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_SAID_LIST);

  G_OBJECT_CLASS (tpt_said_list_parent_class)->dispose (object);
}

static void
tpt_said_list_class_init (TptSaidListClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  GType type = G_TYPE_FROM_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_said_list_dispose;
  signals[SIGNAL_TAKEN_BACK] =
    g_signal_new ("taken-back", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SIGNAL_LET_COUNT] =
    g_signal_new ("let-count", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);

  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/frames/tpt-said-list.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptSaidList, differ);
  gtk_widget_class_bind_template_child (widget_class, TptSaidList, differ_text);
  gtk_widget_class_bind_template_child (widget_class, TptSaidList, choices);
  gtk_widget_class_bind_template_child (widget_class, TptSaidList, undecided);
  gtk_widget_class_bind_template_child (widget_class, TptSaidList, lines);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_said_list_init (TptSaidList *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_said_list_show (TptSaidList *self, const TptFrameRow *row, const char *person, gboolean editable)
{
  guint n = row != NULL ? row->seen->len : 0;

  show_difference (self, row, person, editable);
  empty_box (self->lines);
  for (guint i = 0; i < n; i++)
    add_line (self, row->seen->pdata[i], person, editable);
  gtk_label_set_label (self->undecided, row == NULL || row->ref.trigger_id != 0
                                          ? _("Undecided")
                                          : _("This frame belongs to no trigger, so that it cannot be named here."));
  gtk_widget_set_visible (GTK_WIDGET (self->undecided), row != NULL && !tpt_frame_row_is_decided (row));
}
