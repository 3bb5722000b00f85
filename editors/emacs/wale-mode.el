;;; wale-mode.el --- Patterns for machines with two needle beds  -*- lexical-binding: t; -*-

;; Version: 0.1.0
;; Package-Requires: ((emacs "27.1"))
;; Keywords: languages
;; SPDX-License-Identifier: MIT

;;; Commentary:

;; Colours, indentation and findings for patterns that end in `.wale'.
;;
;; Put this file into a folder of the `load-path', and into your init file:
;;
;;     (require 'wale-mode)
;;
;; While you write, Flymake underlines what `wale check' finds.  `M-x compile' checks the file, and `next-error' goes
;; from finding to finding.  With Eglot (part of Emacs 29 and later) `M-x eglot' starts the language server instead,
;; which knows fixes and more.

;;; Code:

(require 'compile)
(require 'flymake)

(defgroup wale nil
  "Patterns for knitting by hand on a machine with two needle beds."
  :group 'languages)

(defcustom wale-program "wale"
  "The program wale: its name, or its whole path where the name alone is not found."
  :type 'string
  :risky t)

(defcustom wale-indent 4
  "How many blanks a block is indented by."
  :type 'integer
  :safe #'integerp)

;;;; Words

;; Words: written by tests/editors.rs.
(defconst wale--words
  '((declaration
     "chart" "fabric" "gauge" "let" "machine" "make" "pattern" "piece" "section" "sizes" "stitch"
     "use" "yarn")
    (structure
     "evenly" "follow" "for" "repeat" "shape" "times" "work")
    (operation
     "arrange" "bind" "cast" "chain" "cross" "cut" "decrease" "drop" "free" "hold" "increase"
     "joining" "loops" "move" "new" "off" "onto" "open" "out" "pass" "pick" "rack" "release" "reset"
     "row" "rows" "thread" "transfer" "tubular" "up" "waste" "wound" "zigzag")
    (action
     "knit" "slip" "tuck")
    (bed
     "back" "bed" "beds" "both" "front")
    (side
     "centre" "edge" "left" "right" "side")
    (selection
     "all" "but" "each" "elsewhere" "empty" "every" "first" "leftmost" "loaded" "none" "rightmost")
    (setting
     "between" "carriage" "counter" "emptied" "gaiting" "go" "hand" "inset" "loosened" "opposite"
     "racking" "size" "stay" "tightened")
    (unit
     "Ne" "Nm" "cm" "denier" "dtex" "g" "kg" "length" "m" "mm" "needle" "needles" "number"
     "selection" "stitches" "tex" "worsted")
    (profile
     "adjacent" "ball" "colour" "count" "fibre" "float" "half" "handle" "lever" "lone" "longest"
     "most" "picked" "pitch" "place" "plain" "relaxed" "second" "selectors" "slack" "step" "strands"
     "takes" "tucks" "unwashed" "wait" "washed" "widest")
    (speech
     "mark" "note" "remind")
    (promise
     "allow" "because" "closed" "expect" "tube")
    (link
     "a" "and" "as" "at" "by" "from" "in" "of" "on" "or" "over" "the" "to" "with"))
  "Every word of the language, by class.")

(defconst wale--phrases
  '((operation "cast on" "in work" "out of work" "waste yarn")
    (setting "stitch sizes" "stitch size"))
  "Words that belong together, by class.")
;; End of the words.

(defconst wale--faces
  '((declaration . font-lock-keyword-face)
    (structure . font-lock-keyword-face)
    (operation . font-lock-builtin-face)
    (action . font-lock-keyword-face)
    (bed . font-lock-type-face)
    (side . font-lock-constant-face)
    (selection . font-lock-preprocessor-face)
    (setting . font-lock-preprocessor-face)
    (unit . font-lock-type-face)
    (profile . font-lock-variable-name-face)
    (speech . font-lock-doc-face)
    (promise . font-lock-warning-face)
    (link . nil))
  "The face of each class of words; those without one stay plain.")

(defun wale--matchers (words-by-class pattern)
  "Font lock matchers for WORDS-BY-CLASS.\nPATTERN makes a regular expression of words."
  (delq nil (mapcar (lambda (entry)
                      (let ((face (cdr (assq (car entry) wale--faces))))
                        (and face `(,(funcall pattern (cdr entry)) 0 ',face))))
                    words-by-class)))

(defconst wale--name "[[:lower:]][[:lower:]0-9-]*"
  "A name.")

(defconst wale-font-lock-keywords
  (append
   `((,(concat "\\_<\\(?:machine\\|yarn\\|gauge\\|thread\\)[ \t]+\\(" wale--name "\\)\\_>")
      1 'font-lock-variable-name-face)
     (,(concat "^[ \t]*\\(?:work\\|follow\\|chart\\|fabric\\|stitch\\)[ \t]+\\(" wale--name "\\)\\_>")
      (1 (unless (member (match-string 1) '("size" "sizes")) 'font-lock-function-name-face)))
     (,(concat "^[ \t]*let[ \t]+\\(" wale--name "\\)\\_>") 1 'font-lock-variable-name-face)
     (,(concat "^[ \t]*allow[ \t]+\\(" wale--name "\\)\\_>") 1 'font-lock-constant-face)
     ;; Behind a number some words are units that mean something else at the beginning of a line.
     ("[0-9)][ \t]*\\(rows?\\|stitch\\|in\\)\\_>" 1 'font-lock-type-face)
     ("\\_<[LR][0-9]+\\(?:-[LR][0-9]+\\)?\\_>" 0 'font-lock-constant-face)
     (")\\(-[LR][0-9]+\\)\\_>" 1 'font-lock-constant-face)
     ("\\_<[XO]\\_>" 0 'font-lock-constant-face))
   (wale--matchers wale--phrases
                   (lambda (phrases)
                     (concat "\\_<\\(?:"
                             (mapconcat (lambda (phrase) (replace-regexp-in-string " " "[ \t]+" phrase t t))
                                        phrases "\\|")
                             "\\)\\_>")))
   (wale--matchers wale--words (lambda (words) (regexp-opt words 'symbols))))
  "What is coloured besides comments and what is in quotation marks.")

;;;; Editing

(defvar wale-mode-syntax-table
  (let ((table (make-syntax-table)))
    (modify-syntax-entry ?# "<" table)
    (modify-syntax-entry ?\n ">" table)
    (modify-syntax-entry ?\" "\"" table)
    (modify-syntax-entry ?\\ "." table)
    (modify-syntax-entry ?{ "(}" table)
    (modify-syntax-entry ?} "){" table)
    (modify-syntax-entry ?- "_" table)
    (modify-syntax-entry ?| "." table)
    (modify-syntax-entry ?* "." table)
    (modify-syntax-entry ?+ "." table)
    (modify-syntax-entry ?/ "." table)
    (modify-syntax-entry ?= "." table)
    table)
  "What the characters of a pattern are.")

(defun wale-indent-line ()
  "Indent the line by the blocks that it stands in."
  (interactive)
  (let* ((column (save-excursion
                   (back-to-indentation)
                   (let ((closes (eq (char-after) ?}))
                         (depth (car (syntax-ppss (line-beginning-position)))))
                     (* wale-indent (max 0 (if closes (1- depth) depth))))))
         (from-end (- (point-max) (point))))
    (back-to-indentation)
    (unless (= (current-column) column)
      (delete-region (line-beginning-position) (point))
      (indent-to column))
    (when (> (- (point-max) from-end) (point))
      (goto-char (- (point-max) from-end)))))

(defconst wale-imenu-expression
  `(("Pieces" "^[ \t]*piece[ \t]+\"\\([^\"\n]*\\)\"" 1)
    ("Sections" "^[ \t]*section[ \t]+\"\\([^\"\n]*\\)\"" 1)
    ("Stitches" ,(concat "^[ \t]*stitch[ \t]+\\(" wale--name "\\)[^\n]*{") 1)
    ("Charts" ,(concat "^[ \t]*chart[ \t]+\\(" wale--name "\\)") 1)
    ("Machines" ,(concat "^[ \t]*machine[ \t]+\\(" wale--name "\\)") 1)
    ("Yarns" ,(concat "^[ \t]*yarn[ \t]+\\(" wale--name "\\)") 1)
    ("Values" ,(concat "^[ \t]*let[ \t]+\\(" wale--name "\\)") 1))
  "What `imenu' lists.")

(defun wale-completion-at-point ()
  "Complete a word of the language."
  (let ((state (syntax-ppss)))
    (unless (or (nth 3 state) (nth 4 state))
      (let ((bounds (bounds-of-thing-at-point 'symbol)))
        (when bounds
          (list (car bounds) (cdr bounds) (apply #'append (mapcar #'cdr wale--words)) :exclusive 'no))))))

;;;; Findings

(defconst wale--finding "^\\(.+?\\):\\([0-9]+\\):\\([0-9]+\\): \\(?:error\\|\\(warning\\)\\): \\(.*\\)$"
  "A line of `wale check --format short'.")

(add-to-list 'compilation-error-regexp-alist-alist `(wale ,wale--finding 1 2 3 (4)))
(add-to-list 'compilation-error-regexp-alist 'wale)

(defvar-local wale--checking nil
  "The check that runs for this buffer.")

(defun wale--diagnostics (output source)
  "The findings in the buffer OUTPUT, as Flymake wants them for the buffer SOURCE."
  (let (found)
    (with-current-buffer output
      (goto-char (point-min))
      (while (re-search-forward wale--finding nil t)
        ;; A finding in a file that the pattern uses is shown there.
        (when (equal (match-string 1) "standard input")
          (let* ((line (string-to-number (match-string 2)))
                 (column (string-to-number (match-string 3)))
                 (kind (if (match-string 4) :warning :error))
                 (words (match-string 5))
                 (place (flymake-diag-region source line column)))
            (push (flymake-make-diagnostic source (car place) (cdr place) kind words) found)))))
    (nreverse found)))

(defun wale-flymake (report &rest _)
  "Check the buffer with wale and tell Flymake with REPORT what is found."
  (unless (executable-find wale-program)
    (error "The program `%s' is not found; see the variable `wale-program'" wale-program))
  (when (process-live-p wale--checking)
    (kill-process wale--checking))
  (let ((source (current-buffer)))
    (save-restriction
      (widen)
      (setq wale--checking
            (make-process
             :name "wale" :noquery t :connection-type 'pipe
             :buffer (generate-new-buffer " *wale*")
             :stderr (get-buffer-create " *wale errors*")
             :command (list wale-program "check" "--format" "short" "-")
             :sentinel
             (lambda (process _event)
               (when (memq (process-status process) '(exit signal))
                 (unwind-protect
                     (when (and (buffer-live-p source)
                                (with-current-buffer source (eq process wale--checking)))
                       (funcall report (wale--diagnostics (process-buffer process) source)))
                   (kill-buffer (process-buffer process)))))))
      (process-send-region wale--checking (point-min) (point-max))
      (process-send-eof wale--checking))))

;;;; The mode

;;;###autoload
(define-derived-mode wale-mode prog-mode "wale"
  "A mode for patterns."
  (setq-local comment-start "# ")
  (setq-local comment-end "")
  (setq-local comment-start-skip "#+[ \t]*")
  (setq-local font-lock-defaults '(wale-font-lock-keywords))
  (setq-local indent-line-function #'wale-indent-line)
  (setq-local indent-tabs-mode nil)
  (setq-local electric-indent-chars (cons ?} electric-indent-chars))
  (setq-local imenu-generic-expression wale-imenu-expression)
  (add-hook 'completion-at-point-functions #'wale-completion-at-point nil t)
  (add-hook 'flymake-diagnostic-functions #'wale-flymake nil t)
  (when buffer-file-name
    (setq-local compile-command
                (mapconcat #'shell-quote-argument
                           (list wale-program "check" "--format" "short" (file-name-nondirectory buffer-file-name))
                           " ")))
  (when (and buffer-file-name (not noninteractive) (executable-find wale-program))
    (flymake-mode 1)))

;;;###autoload
(add-to-list 'auto-mode-alist '("\\.wale\\'" . wale-mode))

(defvar eglot-server-programs)
(with-eval-after-load 'eglot
  (add-to-list 'eglot-server-programs `(wale-mode . (,wale-program "serve"))))

(provide 'wale-mode)
;;; wale-mode.el ends here
