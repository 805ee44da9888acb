package isolated

import (
	"fmt"
	"os"
	"os/exec"
	"time"
)

// A process is this same program, started as a child.
type process struct {
	command *exec.Cmd
	ask     *os.File // its standard input
	answers *os.File // its standard output
	memory  *memory  // where it puts pixels
	ended   chan struct{}
	err     error // how it ended, once that is closed
}

// start starts the program with words that make it a child.
func start(words ...string) (*process, error) {
	self, err := ownProgram()
	if err != nil {
		return nil, fmt.Errorf("%w: install Ringwise again", err)
	}
	p := &process{ended: make(chan struct{})}
	if p.memory, err = newMemory(); err != nil {
		return nil, err
	}
	asked, ask, err := os.Pipe()
	if err != nil {
		p.memory.free()
		return nil, err
	}
	defer asked.Close()
	p.ask = ask
	answers, answered, err := os.Pipe()
	if err != nil {
		p.memory.free()
		ask.Close()
		return nil, err
	}
	defer answered.Close()
	p.answers = answers
	p.command = exec.Command(self, words...)
	p.command.Stdin, p.command.Stdout, p.command.ExtraFiles = asked, answered, p.memory.files()
	if err := p.command.Start(); err != nil {
		p.free()
		return nil, fmt.Errorf("%w: close other programs and try again", err)
	}
	go func() {
		p.err = p.command.Wait()
		p.answers.SetReadDeadline(time.Now().Add(lastWords)) // whoever else may hold it open
		close(p.ended)
	}()
	return p, nil
}

// lastWords is how long an answer may take that a process gave before it ended.
const lastWords = time.Second

// alive is whether the process still runs.
func (p *process) alive() bool {
	select {
	case <-p.ended:
		return false
	default:
		return true
	}
}

// kill ends the process at once. It may be called at any time.
func (p *process) kill() { p.command.Process.Kill() }

// close ends the process and gives back what it took.
func (p *process) close() {
	p.kill()
	<-p.ended
	p.free()
}

func (p *process) free() {
	p.ask.Close()
	p.answers.Close()
	p.memory.free()
}
